"""Minutes, costs, stock."""
