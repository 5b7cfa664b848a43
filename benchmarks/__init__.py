"""Speed, as ratios within one run: numbers in seconds would tell of the machine, not of us."""
