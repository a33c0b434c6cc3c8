"""Photographs of the owner's own room: found by name, cleaned, scaled once, and given the owner's words.

What you may touch here: which kinds of files are read, how large a copy is, which folders of `photos/` mean what.
Nothing of a photograph reaches a page but pixels that were decoded and written anew here.
"""

from macros.photographs.photographs import NO_PHOTOGRAPHS, Photograph, Photographs, photographs_of

__all__ = ["NO_PHOTOGRAPHS", "Photograph", "Photographs", "photographs_of"]
