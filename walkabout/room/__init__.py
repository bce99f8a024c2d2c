"""The model of a growing room, and its room.toml."""
