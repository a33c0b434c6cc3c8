"""What prints otherwise than it was issued, and why."""
