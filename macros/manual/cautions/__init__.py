"""Which caution stands before which step, in which words; checked again on the finished page."""
