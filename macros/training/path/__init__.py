"""Units, sheets, sign-offs, roster."""
