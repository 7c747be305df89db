"""Pictures of decorated blanks, composed from arrays. Pure."""
