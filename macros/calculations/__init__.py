"""Pure functions on numbers in stated units: no input or output, no house, no site."""
