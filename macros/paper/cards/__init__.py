"""Wall cards."""
