"""Drawings of things from the facts of the house: where each line stands is worked out here, a template prints it."""
