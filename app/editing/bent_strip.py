"""The workshop's own K-factor from one bent test strip: cut it, measure it, bend it, measure it again.

Glossary
--------
leg         length of one side of the bent strip, from its end to where the two outer faces (or, inside, the
            two inner faces) meet; for a strip turned by more than 90 deg to the tangent square to the leg
bend zone   what is left of the flat length when the straight parts of both legs are taken off
K           place of the neutral line, as a share of the thickness from the inner face
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final, Literal

from app.editing.refused import EditRefused
from geometry.bend_allowance import BendError, k_factor

Side = Literal["outside", "inside"]

READ_MM: Final = 0.1
"""How far a length read with callipers may be off, cut edge and hand included (common practice)."""
READ_THICKNESS_MM: Final = 0.02
READ_RADIUS_MM: Final = 0.2
"""With radius gauges (common practice)."""
READ_DEG: Final = 0.5
WIDE: Final = 0.1
"""K known no better than this is told to be rough: DIN 6935 itself spans about as much."""


@dataclass(frozen=True)
class StripReadings:
    """What was read off one strip with one fold."""

    flat_mm: float
    """Length before bending."""
    leg_a_mm: float
    leg_b_mm: float
    turned_deg: float
    """How far it is turned out of flat: 90 is a square corner."""
    thickness_mm: float
    inside_radius_mm: float
    legs: Side = "outside"
    read_mm: float = READ_MM
    """How far each of the three lengths may be off."""


@dataclass(frozen=True)
class StripAnswer:
    """K from one strip."""

    k_factor: float
    off: float
    """K may be off by so much either way, as the readings may: root of the sum of squares."""
    zone_width_mm: float
    din_k_factor: float
    """What DIN 6935 gives for the same radius and thickness."""
    words: str


def k_from_strip(readings: StripReadings) -> StripAnswer:
    """Return K from a bent strip; EditRefused, naming the reading, if it cannot be so."""
    _refuse_nonsense(readings)
    width = _zone_width_mm(readings)
    found = _k(readings)
    if not 0.0 < found < 1.0:
        raise EditRefused(
            f"the readings give K {found:.2f}, and the neutral line cannot lie outside the sheet: measure"
            " again, most likely the flat length or whether the legs are read outside or inside"
        )
    off = _off(readings)
    try:
        usual = k_factor(readings.inside_radius_mm, readings.thickness_mm)
    except BendError as error:
        raise EditRefused(str(error)) from None
    return StripAnswer(found, off, width, usual, _words(found, off, usual))


def _zone_width_mm(r: StripReadings) -> float:
    return r.flat_mm - (r.leg_a_mm - _setback_mm(r)) - (r.leg_b_mm - _setback_mm(r))


def _setback_mm(r: StripReadings) -> float:
    """Return what each leg loses to the bend, as DIN 6935 takes it outside, and alike on the inner face."""
    radius = r.inside_radius_mm + (r.thickness_mm if r.legs == "outside" else 0.0)
    return radius if r.turned_deg >= 90.0 else radius * math.tan(math.radians(r.turned_deg) / 2.0)


def _k(r: StripReadings) -> float:
    return (_zone_width_mm(r) / math.radians(r.turned_deg) - r.inside_radius_mm) / r.thickness_mm


def _off(r: StripReadings) -> float:
    """Return how far K may be off: each reading moved by what it may be off, in turn."""
    moved: tuple[Callable[[float], StripReadings], ...] = (
        lambda s: replace(r, flat_mm=r.flat_mm + s * r.read_mm),
        lambda s: replace(r, leg_a_mm=r.leg_a_mm + s * r.read_mm),
        lambda s: replace(r, leg_b_mm=r.leg_b_mm + s * r.read_mm),
        lambda s: replace(r, turned_deg=r.turned_deg + s * READ_DEG),
        lambda s: replace(r, thickness_mm=r.thickness_mm + s * READ_THICKNESS_MM),
        lambda s: replace(r, inside_radius_mm=max(r.inside_radius_mm + s * READ_RADIUS_MM, 0.0)),
    )
    # at a square corner the legs begin to be read another way: the worse of the two sides counts
    k = _k(r)
    return math.sqrt(sum(max(abs(_k(move(s)) - k) for s in (-1.0, 1.0)) ** 2 for move in moved))


def _words(found: float, off: float, usual: float) -> str:
    told = f"K {found:.2f}, give or take {off:.2f}; DIN 6935 would give {usual:.2f}"
    if off > WIDE:
        return f"{told}. That is rough: bend three strips and take the mean, or read them finer."
    if abs(found - usual) <= off:
        return f"{told}, which agrees as far as the strip can tell."
    return f"{told}, which your brake does not follow: type your own K at each fold it makes."


def _refuse_nonsense(r: StripReadings) -> None:
    for word, value in (
        ("flat length", r.flat_mm),
        ("first leg", r.leg_a_mm),
        ("second leg", r.leg_b_mm),
        ("thickness", r.thickness_mm),
        ("reading error", r.read_mm),
    ):
        if not (math.isfinite(value) and value > 0.0):
            raise EditRefused(f"a {word} of {value:g} mm is not possible: give one above zero")
    if not 0.0 < r.turned_deg < 180.0:
        raise EditRefused(
            f"a strip turned by {r.turned_deg:g} deg tells nothing: give the angle it is turned out of flat,"
            " between 0 and 180, 90 for a square corner"
        )
    if not (math.isfinite(r.inside_radius_mm) and r.inside_radius_mm >= 0.0):
        raise EditRefused(
            f"an inside radius of {r.inside_radius_mm:g} mm is not possible: measure it with a radius gauge"
        )
    for word, leg in (("first", r.leg_a_mm), ("second", r.leg_b_mm)):
        if leg < _setback_mm(r):
            raise EditRefused(
                f"the {word} leg of {leg:g} mm ends inside the bend, which takes {_setback_mm(r):.2f} mm"
                " of it: bend a longer strip"
            )
