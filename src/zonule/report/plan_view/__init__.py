"""What the plan page says, ready to be set: a record of texts, paths of their why, and pictures."""
