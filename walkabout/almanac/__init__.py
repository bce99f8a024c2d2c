"""What the dates say."""
