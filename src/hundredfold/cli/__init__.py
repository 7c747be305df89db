"""The command line: parse, call the workshop, print. Nothing else."""
