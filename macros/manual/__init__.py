"""A procedure from its file to its page, sheet and form.

What you may touch here: what a step may say, when a caution stands, what pages must meet, what a page holds and in
which order.
"""
