"""`python -m walkabout` is the same as `walkabout`."""

from walkabout.cli import main

main()
