"""What happened: appended events, the state folded from them, and SKUs that never change. Pure."""
