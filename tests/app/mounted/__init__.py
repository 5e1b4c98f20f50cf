"""Tests of the mounted bracket."""
