"""READ FIRST. The surgeon's day in order, one file per job; pages and commands call these."""
