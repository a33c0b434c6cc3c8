"""The items that must not be missed, for reading aloud."""
