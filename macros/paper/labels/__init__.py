"""Labels: rows, hazard words, fit, sheets."""
