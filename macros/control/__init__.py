"""Document control: what is issued, in which revision, where it hangs, what prints otherwise now and why.

What you may touch here: what is under control, how a change is judged, what the lists say. A line that is renamed
moves the code of every house: do it with care.
"""
