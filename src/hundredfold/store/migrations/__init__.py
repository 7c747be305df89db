"""The history of the tables, one file a step. Never change a step that has been released."""
