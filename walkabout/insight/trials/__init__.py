"""The statistics of a trial: its table, its design, the test that fits, and what may be said."""
