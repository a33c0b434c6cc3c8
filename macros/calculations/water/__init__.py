"""Volumes, flow, floods, oxygen, what plants drink."""
