"""Everything with a day: page, month on paper, file for a phone, what is due today.

What you may touch here: a kind of entry, a day or a rhythm it comes from, how a month looks.
"""
