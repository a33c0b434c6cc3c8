"""Procedure files: format, loading, steps of this house, texts with their words filled in."""
