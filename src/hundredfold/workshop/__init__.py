"""The verbs. The only place where the trade meets disk, clock and chance."""
