"""The checks, by what they look at: the art alone, its size and print, its colour on the blank."""
