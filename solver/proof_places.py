"""Where a gauge is worth setting on the casing, and what is hung on the lever."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from geometry.bracket import Bracket
from geometry.casing import Casing
from geometry.casing_in_space import casing_to_space
from solver.proof_readings import (
    READ_MM,
    GaugePlace,
    Hang,
    ProofError,
    couple_shares,
    hung_mass_kg,
)
from solver.results import Results

RIGHT_EDGE: Final = "top, right edge"
FAR_END: Final = "top, right edge, far end"
LOWER_EDGE: Final = "right side, lower edge"
_INSET_MM: Final = 5.0
"""The tip stands so far in from the casing's edge."""
_MORE: Final = 1.25
"""A place that reads so many times what the first does is worth a card of its own."""


@dataclass(frozen=True)
class NamedPlace:
    """A place of the gauge with the words it goes by on card and record."""

    name: str
    gauge: GaugePlace


def gauge_place(bracket: Bracket) -> GaugePlace:
    """Return where the first gauge stands: on top of the casing near its right edge, reading up.

    A quarter of the casing's length from its end by the wheel; the lever has the middle. ProofError without a
    casing, or one that does not reach to the right of the shaft.
    """
    casing = _casing(bracket)
    return GaugePlace(_right_edge(casing, _stations(casing)[0]), (0.0, 1.0, 0.0))


def gauge_places(bracket: Bracket) -> tuple[NamedPlace, ...]:
    """Return every place that may be worth a card, the first leading; ProofError as `gauge_place`."""
    casing = _casing(bracket)
    near, far = _stations(casing)
    found = [
        NamedPlace(RIGHT_EDGE, gauge_place(bracket)),
        NamedPlace(FAR_END, GaugePlace(_right_edge(casing, far), (0.0, 1.0, 0.0))),
    ]
    low, high = casing.envelope.low_mm, casing.envelope.high_mm
    corners = [casing_to_space(casing, (x, y, near)) for x in (low[0], high[0]) for y in (low[1], high[1])]
    y, z = min(float(c[1]) for c in corners), float(corners[0][2])
    if y < -2.0 * _INSET_MM:
        # below the shaft a turn from X toward Y goes toward X
        right = max(float(c[0]) for c in corners)
        found.append(NamedPlace(LOWER_EDGE, GaugePlace((right, y + _INSET_MM, z), (1.0, 0.0, 0.0))))
    return tuple(found)


def worth_gauging(bracket: Bracket, results: Results, hang: Hang) -> tuple[NamedPlace, ...]:
    """Return the first place, and every other that shows more than it or something else.

    A place that reads a quarter more; the far end if it moves otherwise than the near one by more than a
    reading may be off.
    """
    first, *others = gauge_places(bracket)
    before = _most(results, first.gauge, hang)
    found = [first]
    for place in others:
        here = _most(results, place.gauge, hang)
        if here > _MORE * before or (place.name == FAR_END and abs(here - before) > READ_MM):
            found.append(place)
    return tuple(found)


def hang_of(bracket: Bracket, arm_mm: float) -> Hang:
    """Return the hang for the couple without its factor, to a tenth of a kilogram; ProofError if none."""
    couple = bracket.loads.couple.value_nm
    if couple is None:
        raise ProofError("the couple is blank, so there is no mass to hang: fill it first")
    if bracket.casing is None:
        raise ProofError("there is no casing to bolt a lever to: add the casing first")
    rake = bracket.rake_deg or 0.0
    mass = max(round(hung_mass_kg(couple, arm_mm, rake), 1), 0.1)
    return Hang(mass, arm_mm, lever_station_mm(bracket.casing), rake)


def lever_station_mm(casing: Casing) -> float:
    """Return where the lever is clamped: in the middle of the casing."""
    return casing.station_mm + (casing.envelope.low_mm[2] + casing.envelope.high_mm[2]) / 2.0


def _casing(bracket: Bracket) -> Casing:
    if bracket.casing is None:
        raise ProofError("there is no casing to set a gauge on: add the casing first")
    return bracket.casing


def _stations(casing: Casing) -> tuple[float, float]:
    """Return stations, in the casing's own measure: a quarter from the end by the wheel, and the other."""
    low, high = casing.envelope.low_mm[2], casing.envelope.high_mm[2]
    return high - 0.25 * (high - low), low + 0.25 * (high - low)


def _right_edge(casing: Casing, station: float) -> tuple[float, float, float]:
    low, high = casing.envelope.low_mm, casing.envelope.high_mm
    corners = [casing_to_space(casing, (x, y, station)) for x in (low[0], high[0]) for y in (low[1], high[1])]
    x, y, z = (float(v) for v in max(corners, key=lambda p: float(p[0] + p[1])))
    arm = x - _INSET_MM if x > 4.0 * _INSET_MM else x
    if not arm > 1.0:
        raise ProofError(
            "the casing's block does not reach to the right of the shaft: give its measures first"
        )
    return arm, y, z


def _most(results: Results, gauge: GaugePlace, hang: Hang) -> float:
    """Return the most the couple makes it read while held."""
    return max(abs(v) for v in couple_shares(results, gauge, hang).held_mm)
