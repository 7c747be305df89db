"""Phrases looked up in lists of registered marks and the seller's blocked list. Pure."""
