"""Tests of Holdsquare."""
