"""The page: a face beside the command line. Calls the workshop and renders what it answers; nothing else."""
