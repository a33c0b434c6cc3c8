"""Register, working, rounding, pours: how an amount is entered."""
