"""A job on the clock: the steps of its pages as a plan for one person or two.

What you may touch here: activities and waits, lives of batches, rests, the words of a plan. The search itself is in
`calculations/scheduler/`.
"""
