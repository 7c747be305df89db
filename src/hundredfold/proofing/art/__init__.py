"""Measuring art: pure arrays in, facts out."""
