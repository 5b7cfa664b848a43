"""What we intend: the places a lens may end up, the power for each, and what is still open."""
