"""Procedures, cautions, supplies, sheets and records, worked out for one house."""
