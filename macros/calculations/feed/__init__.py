"""Feed, acid, base and what water answers."""
