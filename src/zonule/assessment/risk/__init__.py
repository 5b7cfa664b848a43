"""What the published models say of one eye, with what is not known kept open."""
