"""Facts of the house in the words of a page: who, how often, where to ring."""
