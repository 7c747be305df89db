"""The shop to look at: each function gives one record of one moment, and never waits for a run."""
