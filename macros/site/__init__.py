"""The whole manual of one house put together: it collects the pages that the rooms give.

What you may touch here: what is collected, in which order the menu has it, the start page.
"""
