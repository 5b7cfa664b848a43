"""Results against what was expected: charts case by case, and units side by side."""
