"""Words every room uses: units, money, colour, pixels, findings, errors. Knows no other room."""
