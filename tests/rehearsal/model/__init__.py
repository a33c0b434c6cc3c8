"""Tests of the model: water, what is in it, and what acts do to both."""
