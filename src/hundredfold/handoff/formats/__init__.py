"""Tables as files, a module a format. What judges them shares no code with these."""
