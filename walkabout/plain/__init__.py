"""The round as a line dialogue."""
