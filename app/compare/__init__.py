"""Layouts side by side: the same load, one scale, every check with its difference, which is better. No Qt."""
