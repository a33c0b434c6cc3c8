"""The records that pages, sheets and cards are printed from, already worked out for one house.

What you may touch here: what a page, sheet or card can show. Plain text and numbers alone: no HTML, no sums.
"""
