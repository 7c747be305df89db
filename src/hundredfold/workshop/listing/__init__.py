"""What could be listed, for how much, and in which of two versions."""
