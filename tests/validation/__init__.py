"""Published values: one file per source."""
