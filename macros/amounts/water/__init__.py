"""Tank, floods, pump, watering, the log."""
