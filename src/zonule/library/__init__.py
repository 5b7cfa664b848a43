"""What is published, as data, and the small code that reads it."""
