"""Checks: arithmetic on measured facts that yields findings. Sees the trade, is seen by no trade room."""
