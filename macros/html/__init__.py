"""Turns records into HTML and paper: templates, theme, drawings, sandbox; it knows no procedure.

What you may touch here: how something looks, what a text of a page may hold, the content policy of a page.

A page is finished HTML inside Markdown: `skip_finished_html` puts a mark in its place while Markdown is converted,
`search_sections` takes it apart for the search. Neither keeps anything from one build to the next. The only thing kept on disk
is compiled templates, by their text; they are code, so `environment` says whose folder they may come from. Data that stands
inside a page goes through `script_data`. No inline script and no `on...=`: the content policy forbids both.
"""
