"""One module a screen: its address, the records it shows, its template."""
