"""Bakes the plates: see README.md."""
