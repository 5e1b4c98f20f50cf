"""Numbers with few digits."""

from __future__ import annotations

from typing import Final

_MOST_DECIMALS: Final = 15
"""More than these a number held by the machine has not."""


def with_digits(value: float, digits: int) -> str:
    """Return a number with so many significant digits at most, thousands without a power of ten."""
    told = f"{value:.{digits}g}"
    return f"{float(told):.0f}" if "e+" in told else told


def percent_apart(share: float, other: float) -> str:
    """Return a share in per cent, without the sign, as short as it may be without reading as the other does.

    Beside 0.16 a share of 0.155 is 15.5, for at no decimals both read 16.
    """
    for decimals in range(_MOST_DECIMALS):
        told = f"{100.0 * share:.{decimals}f}"
        if float(told) != float(f"{100.0 * other:.{decimals}f}"):
            return told
    return f"{100.0 * share:.0f}"
