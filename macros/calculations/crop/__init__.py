"""Sowing, spacing, sets one after the other."""
