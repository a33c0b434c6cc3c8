"""Reading a house folder, starting a new one, entering into its files."""
