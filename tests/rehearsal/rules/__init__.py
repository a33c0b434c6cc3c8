"""Tests of the refusals: each told with its numbers, each silent where all is well."""
