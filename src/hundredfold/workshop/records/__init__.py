"""What can be looked at: frozen records, each with one JSON shape, written by runs and read by views."""
