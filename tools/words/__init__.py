"""Prints listings of the sample shop as a buyer would read them: for docs, and for fresh eyes."""
