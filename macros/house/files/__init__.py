"""Reading a house folder, starting a new one, entering into its files.

A house may be anybody's: each file is read through `ground/house_files.py`, regular, inside the house, bounded, text; nothing
in it is run. What `new_house` writes stands in `macros/starter/`, both kinds of units in one text (`<0.60 m | 24 in>`); a
line with `#` and no blank is a fact that is switched off. An upgrade never changes a folder: `new_since` tells what is newer
than its `made_with`, `dropped` what nothing reads any more.
"""
