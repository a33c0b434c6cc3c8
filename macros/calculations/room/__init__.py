"""Air and light."""
