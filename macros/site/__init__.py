"""The whole manual of one house put together: it collects the pages that the rooms give.

What you may touch here: the menu, the start page, which rooms give pages. No content.
"""
