"""Hazards: substances, bands, cautions, pairs, protection, what may be eaten."""
