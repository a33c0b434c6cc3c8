"""What pages are written with: words, things, rhythms, sources, requirements."""
