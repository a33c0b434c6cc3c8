"""What prints otherwise than it was issued, and why.

One list for `trayside changes` and the page Changes: items against their copies, and everything that follows from items.
What a thing printed last stands in `site_data/issued/printed.json` with the inputs of that day: all facts as written, a code of
each procedure and list and one of the program (its keys are names, whatever folder a file stands in). A thing is taken anew
when an item of it is issued and none of its items waits. While every thing was taken from the inputs at hand, a build compares
nothing. What says which copy it is carries `data-control` in a template and counts as no text.
"""
