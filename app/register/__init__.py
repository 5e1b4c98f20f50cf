"""A certifier's list of inspected brackets. No Qt."""
