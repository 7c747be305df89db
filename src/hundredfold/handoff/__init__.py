"""A pack: tables, archives and manifest, and the independent code that proves they agree. Pure."""
