"""The shop's folder on disk: its paths, files, record and backups."""
