"""Prices for a set profit through the unit economics, in Decimal. Pure."""
