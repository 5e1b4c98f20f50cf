"""Compare a computed value with one from outside the project, and keep the pair for the table in the README.

Every test in this folder gets the mark `reference`, unless it carries `qualitative` (an order, a yes or no:
nothing that could be 5 % off), and compares through `agrees` or `lies_between`. That buys two things:

- `python3 tests table` prints source, quantity, published and computed value from a run: no row is typed;
- `python3 tests spoil` spoils the program by 5 % and demands that every one of these tests then fails. How,
  and what that does and does not prove, is told in `tests/spoil.py`.

Say in `source` what kind of source it is: "(published)", "(from memory, to be verified)", "(common practice)"
or "(closed form)".
"""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True)
class Comparison:
    """One published value beside the one computed here."""

    source: str
    name: str
    published: str
    computed: float
    difference: float | None
    """Fraction of the published value, or of `scale` where given; None where the source gives a range."""
    test: str
    agreed: bool


comparisons: list[Comparison] = []
"""Every comparison made in this run, in order."""

value_factor: float = 1.0
"""What a spoilt run multiplies each computed value by; 1 in an honest run. Set by `tests/conftest.py`."""

raising: bool = True
"""Whether a disagreement ends its test; in a spoilt run it fails it at the end, after every comparison."""

current_test: str = ""
"""Name of the running test. Set by `tests/conftest.py`."""


def agrees(
    computed: float,
    published: float,
    tolerance: float,
    *,
    source: str,
    name: str,
    scale: float | None = None,
) -> None:
    """Demand that `computed` lies within `tolerance` (a fraction) of `published`.

    The fraction is of the published value. A published zero needs `scale`, a positive number in that unit,
    which the tolerance is then a fraction of: the load for a force that should vanish, 1 for a count. A
    tolerance above 0.05 is refused, because the test could then not tell a program that is 5 % wrong.
    """
    if not (source.strip() and name.strip()):
        raise ValueError("a comparison needs a source and a name")
    if not 0.0 <= tolerance <= 0.05:
        raise ValueError(f"tolerance {tolerance:g} of {name!r}: give a fraction from 0 to 0.05")
    base = abs(published) if scale is None else scale
    if not base > 0.0:
        raise ValueError(f"{name!r} is published as {published:g}: give scale=, what it is small against")
    value = _spoilt(float(computed), float(base), float(published))
    difference = (value - published) / base
    # A rounding error of the last digits is no disagreement, also where the tolerance is zero.
    agreed = bool(math.isfinite(value) and abs(difference) <= tolerance + 1e-9)
    comparisons.append(
        Comparison(source, name, f"{published:.5g}", value, float(difference), current_test, agreed)
    )
    assert agreed or not raising, (
        f"{name}: computed {value:.6g}, published {published:.6g}, {100 * difference:+.2f} % where "
        f"{100 * tolerance:g} % is allowed ({source})"
    )


def lies_between(computed: float, low: float, high: float, *, source: str, name: str) -> None:
    """Demand that `computed` lies between two values the source gives as bounds.

    The bounds must be less than 10 % apart, or no 5 % spoiling could drive a value out of them.
    """
    if not (source.strip() and name.strip()):
        raise ValueError("a comparison needs a source and a name")
    middle = (low + high) / 2.0
    if not (0.0 < high - low <= 0.10 * abs(middle)):
        raise ValueError(f"bounds {low:g} and {high:g} of {name!r} must be in order and at most 10 % apart")
    value = _spoilt(float(computed), abs(middle), middle)
    agreed = bool(low <= value <= high)
    comparisons.append(
        Comparison(source, name, f"{low:.5g} to {high:.5g}", value, None, current_test, agreed)
    )
    assert agreed or not raising, (
        f"{name}: computed {value:.6g}, published between {low:.6g} and {high:.6g} ({source})"
    )


def _spoilt(value: float, base: float, published: float) -> float:
    """Return the value a spoilt run sees: scaled, or shifted by that part of `base` if zero is published."""
    if published == 0.0:
        return value + (value_factor - 1.0) * base
    return value * value_factor
