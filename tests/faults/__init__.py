"""Faults injected with a seed, and long days: `python3 tests faults`, `python3 tests long-day`."""
