"""Feed and pH."""
