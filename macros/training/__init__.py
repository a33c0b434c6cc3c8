"""The way to working alone: units, breakdown sheets, sign-offs, self-checks.

What you may touch here: a unit, a sheet of it, what a sign-off is worth, a question and its wrong answers.
"""
