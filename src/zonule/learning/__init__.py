"""What we take on: the first eye's lesson for the second."""
