"""An invented room and the season behind it."""
