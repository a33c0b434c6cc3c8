"""Trayside: builds the house manual of a small flood-and-drain grow room from the facts of that room."""
