"""Turns records into HTML and paper: templates, theme, drawings, sandbox; it knows no procedure.

What you may touch here: how something looks, what a text of a page may hold, the content policy of a page.
"""
