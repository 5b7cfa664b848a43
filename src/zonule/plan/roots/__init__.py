"""How the bag may be lost in this eye, and where the lens then goes."""
