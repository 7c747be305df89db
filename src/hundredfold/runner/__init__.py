"""Recipes, keys, the cache and the runner that makes only what changed."""
