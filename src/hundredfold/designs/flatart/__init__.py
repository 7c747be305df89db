"""Flat vector art drawn as spans of colour: only edges cost anything, however large the sheet."""
