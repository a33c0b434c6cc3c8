"""Strength, batches, contact, rinses."""
