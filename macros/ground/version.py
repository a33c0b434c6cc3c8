"""The version of the program: the one place it is written."""

VERSION = "2.0.0"
