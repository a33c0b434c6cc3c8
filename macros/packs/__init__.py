"""What is printed together: contents, order, cover, readiness, ledger, sheets of the week.

What you may touch here: what a pack holds, a sheet that only a pack has.
"""
