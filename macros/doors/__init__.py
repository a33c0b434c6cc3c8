"""The ways in: command line, MkDocs, preview, issue, printing, publishing.

What you may touch here: a command, an option, a status. No logic of the job.
"""
