"""Pure functions on plain numbers, each after a named source: no house, no files, no words.

What you may touch here: a formula, with its case in `tests/reference/` first. Units stand in the docstring; out of
range raises `RangeProblem` in a whole sentence.
"""
