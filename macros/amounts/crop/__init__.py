"""Seed, plants, harvest."""
