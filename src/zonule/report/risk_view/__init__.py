"""The page of risks: what may happen in this eye, and what remains when it does."""
