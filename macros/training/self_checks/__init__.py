"""Questions from the numbers of the house."""
