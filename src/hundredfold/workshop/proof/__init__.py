"""Proofing a shop: one design, all of them, and what the checks' pages say."""
