"""What can be sold and where: blanks, processes, print areas, channels. Pure records and their parsing."""
