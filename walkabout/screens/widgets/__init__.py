"""Widgets that two screens share."""
