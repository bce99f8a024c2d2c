"""The trade's arithmetic: pure functions and tables, with units and sources."""
