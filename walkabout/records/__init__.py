"""The one place that writes a room's records."""
