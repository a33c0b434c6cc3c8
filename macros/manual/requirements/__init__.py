"""What pages must meet, and who judges it."""
