"""The commands, each thin: it finds its folder, and what it does is done elsewhere."""
