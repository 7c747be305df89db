"""What listings earned: reports read in, results, the statement for the accountant."""
