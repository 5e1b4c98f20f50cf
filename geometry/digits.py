"""Numbers with few digits."""

from __future__ import annotations


def with_digits(value: float, digits: int) -> str:
    """Return a number with so many significant digits at most, thousands without a power of ten."""
    told = f"{value:.{digits}g}"
    return f"{float(told):.0f}" if "e+" in told else told
