"""The exit statuses, and when each is given."""

DONE = 0
ATTEND = 1
"""Something needs a person: nothing was written, something could not be saved, or the program failed."""
WRONG_USE = 2
"""A command, a folder or a file that cannot be used as it is."""
INTERRUPTED = 130
"""Ended with Ctrl-C outside a dialogue: 128 and the number of the signal."""
