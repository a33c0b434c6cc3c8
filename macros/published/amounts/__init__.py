"""What amounts are worked out and compared with: constants, bounds, checks, words of the reckoners."""
