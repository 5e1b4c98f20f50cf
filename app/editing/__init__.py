"""Edits of a bracket: pure functions that return another bracket, and what they need. No Qt."""
