"""Sales and costs read back per design, blank and colour. Pure."""
