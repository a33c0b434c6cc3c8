"""What hangs on the wall and sticks on a bottle: cards and labels.

What you may touch here: a wall card, a label and its rows, what a small label leaves out.
"""
