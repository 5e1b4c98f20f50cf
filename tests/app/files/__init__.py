"""Tests of what is kept on the disk."""
