"""Every procedure run on a model of the room before anybody does it.

What you may touch here: from which starts a page is run, how jobs chain, what is told at the end of a run, which mends
are tried. What an action needs and does is data: `published/labour/effects.yml`.

`run` goes through the steps from one start, `pages` and `jobs` say which steps, `mends` tries the advice before it is
given, `table` shows a run.
"""
