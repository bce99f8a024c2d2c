"""What leaves the screen: calendars, and whatever is printed."""
