"""What every room stands on: messages, files of a house, YAML text, units, records with places, safe writing.

What you may touch here: the form of a message, a unit or kind, a field type, limits on files, what is promised of a
stopped run. Nothing of a grow room stands here.
"""
