"""From a record to what a person reads; pure, nothing is written to disk here."""
