"""What the seller brings: artwork facts, keywords from file names, layouts and typesetting. Pure."""
