"""A bracket with one input changed, and what followed it, in words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from geometry.bracket import Bracket
from geometry.placing import BoltPlace, place_bolts

_SAME_WAY: Final = 0.999
"""Cosine of the angle within which bolts look the same way."""
_ALIKE_MM: Final = 0.2
_LEAST_MM: Final = 0.005


@dataclass(frozen=True)
class Changed:
    """A bracket after a change."""

    bracket: Bracket
    said: tuple[str, ...] = ()
    """What else was changed so that the change makes sense, each in words."""


def meeting_the_bar(before: Bracket, after: Changed) -> Changed:
    """Return the change with the dash bar moved so that plates still meet it where they did.

    A thicker sheet or a larger bend puts a folded foot elsewhere. In the workshop the fold line takes that
    up; here the bar stands over by as much, which loads the bracket alike. Left as it is where plates meet
    the bar from several sides: the findings then say what gapes.
    """
    bar = after.bracket.dash_bar
    if bar is None or before.dash_bar is None:
        return after
    gaps = _gaps_mm(before, after.bracket)
    if not gaps:
        return after
    ways = np.array([way for way, _ in gaps])
    opened = np.array([by for _, by in gaps])
    alike = bool((ways @ ways[0] > _SAME_WAY).all()) and float(np.ptp(opened)) < _ALIKE_MM
    by_mm = float(opened.mean())
    if not alike or abs(by_mm) < _LEAST_MM:
        return after
    shift = -by_mm * ways[0]
    moved = bar.but(
        from_mm=tuple(float(v) for v in np.array(bar.from_mm) + shift),
        to_mm=tuple(float(v) for v in np.array(bar.to_mm) + shift),
    )
    words = f"the dash bar is taken {abs(by_mm):.2f} mm over, so that the plate still meets it"
    return Changed(after.bracket.but(dash_bar=moved), (*after.said, words))


def _gaps_mm(before: Bracket, after: Bracket) -> list[tuple[np.ndarray, float]]:
    """Return for each bolt to the bar its way toward the bar and how much its gap has opened."""
    was = _at_bar(before)
    return [
        (place.axis, place.gap_mm - was[bolt].gap_mm) for bolt, place in _at_bar(after).items() if bolt in was
    ]


def _at_bar(bracket: Bracket) -> dict[str, BoltPlace]:
    return {p.bolt: p for p in place_bolts(bracket) if p.partner == "dash bar"}
