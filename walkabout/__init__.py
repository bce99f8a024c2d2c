"""The morning round of a school growing room."""

__version__ = "0.1.0"
