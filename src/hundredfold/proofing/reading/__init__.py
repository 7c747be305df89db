"""How likely a buyer is to read a design's words in a shop's thumbnail."""
