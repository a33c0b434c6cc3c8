"""Writing so that nothing is ever half done: locks, flushes, exchange of two folders, signals."""
