"""Measuring a house: what its owner has not measured yet, in which order, on a sheet and in questions.

A fact is open while it reads as the starter's, stands in a record that says `basis: assumption`, waits for "fill in before
printing", or is missing and an amount waits for it. What pages rest on it is worked out from the inputs of their amounts.
The house files are the only store: an answer is written at once, as its owner would write it by hand.

What you may touch here: the order (`order.py`), what counts as open (`open_facts.py`), the words of the questions
(`dialogue.py`), the sheet (`sheet.py`). Places and what to look at there stand in `published/paper/measuring.yml`.
"""
