"""Titles, bullets, descriptions and search terms inside a channel's limits. Pure."""
