"""The sections of a house file as typed records."""
