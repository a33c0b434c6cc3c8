"""The version of the program: the one place it is written."""

VERSION = "1.0.0"
