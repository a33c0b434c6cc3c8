"""Packs, cards, labels, letters and the words of document control."""
