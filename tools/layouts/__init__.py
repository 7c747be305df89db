"""Draws the starter layouts, and the pictures of docs/layouts.md."""
