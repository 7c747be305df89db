"""Layouts times words: designs written into the shop's folder."""
