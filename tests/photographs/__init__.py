"""Photographs of the room: what is used, what is refused, what is left of a file."""
