"""Units, questions and sign-offs."""
