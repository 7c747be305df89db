"""Writes a pack: table, archives, manifest. Shares no code with the verifier."""
