"""The reference pages: words, facts, things, people, sources, workings, checks, the log.

What you may touch here: a table of the reference section.
"""
