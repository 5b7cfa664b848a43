"""A module per page."""
