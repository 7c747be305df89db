"""Re-opens a pack and trusts nothing. Shares no code with the writer."""
