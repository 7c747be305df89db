"""Long work in a process of its own, for whoever must go on answering meanwhile."""
