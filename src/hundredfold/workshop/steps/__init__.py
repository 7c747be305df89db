"""The steps that make things: facts, print files, pictures, each a record and a worker's function."""
