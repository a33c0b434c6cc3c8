"""Issues, revisions, copies on the wall, reviews."""
