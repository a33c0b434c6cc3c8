"""Lifts and the critical path of typed stages."""
