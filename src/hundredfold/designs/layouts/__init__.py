"""Layouts: an SVG with slots in its text, filled from a row of words. Pure."""
