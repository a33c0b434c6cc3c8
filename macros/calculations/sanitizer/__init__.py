"""Batches, strengths, rinses."""
