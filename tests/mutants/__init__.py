"""Whether the tests notice a fault put into the program on purpose, one small one at a time."""
