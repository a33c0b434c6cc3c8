"""The table of all published files, and their schemas for editors."""
