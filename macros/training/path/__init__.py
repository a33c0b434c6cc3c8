"""Units, sheets, sign-offs, roster.

A sign-off is entered by the house; who may sign is judged in `house/rules/people.py`, what it is worth (in force, due, void, to
be looked at) in `sign_offs.py`. Nothing the site publishes may hold initials unless `policies.publish_names` is yes: pages,
calendar and files go through `shown_name`; the printed roster and the keys of the naming test are never files of the site.
"""
