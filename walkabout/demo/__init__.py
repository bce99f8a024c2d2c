"""An invented room and the simulated season behind it."""
