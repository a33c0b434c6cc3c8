"""Air, light, electricity."""
