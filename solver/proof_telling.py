"""Whether readings can tell: a mounting that moves from a gauge that does not touch, held from slipped.

And where they cannot, what can: a heavier mass or a longer arm, at most as much couple as the mounting may be
given; or the gauge farther out, on a stiff pointer clamped to the casing that carries nothing.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from geometry.bracket import Bracket
from solver.proof_readings import READ_MM, GaugePlace, Hang, couple_shares, movement_band
from solver.results import Results

HEAVY_KG: Final = 12.0
"""More is much to hang by hand."""
_LONGEST_MM: Final = 1000.0
"""Of a lever under a dash."""
_FARTHEST_MM: Final = 500.0
"""A pointer longer than this moves by itself."""
_STEP: Final = 1.1
_SHARE_HELD: Final = 0.9
"""Of the couple it holds to; more is not hung."""


@dataclass(frozen=True)
class Telling:
    """What the readings of one gauge under one hang can tell."""

    nought: bool
    """Whether a gauge that does not touch would read outside what is expected."""
    slip: bool
    """Whether what is expected held and what slipped lie apart."""

    @property
    def words(self) -> str:
        """Return what cannot be told, in a sentence; empty if all can."""
        cannot = []
        if not self.nought:
            cannot.append("a gauge that does not touch reads the same as what is expected")
        if not self.slip:
            cannot.append("held and slipped cannot be told apart")
        said = " and ".join(cannot)
        return f"{said[:1].upper()}{said[1:]} (a reading may be off by {READ_MM:g} mm)." if said else ""


def telling(results: Results, gauge: GaugePlace, hang: Hang) -> Telling:
    """Return what the readings can tell; ProofError if nothing was solved."""
    shares, band = couple_shares(results, gauge, hang), movement_band(results)
    sign = math.copysign(1.0, sum(shares.held_mm))
    held = [sign * v for v in shares.held_mm]
    if shares.slipped_mm is None:
        return Telling(_low(held, band) > READ_MM, slip=True)
    slipped = [sign * v for v in shares.slipped_mm]
    apart = _low(slipped, band) + shares.half_lash_mm - _high(held, band)
    return Telling(_low([*held, *slipped], band) > READ_MM, apart > 2.0 * READ_MM)


def proposal(bracket: Bracket, results: Results, gauge: GaugePlace, hang: Hang) -> str:
    """Return what would tell what this hang does not, in a sentence; empty if it tells all."""
    now = telling(results, gauge, hang)
    if now.nought and now.slip:
        return ""
    heavier = list(_hangs(gauge, hang, most_couple_nm(bracket, results)))
    tries = [*heavier, *_pointers(gauge, hang, "The same hang")]
    tries += [one for said, _, most in heavier[-1:] for one in _pointers(gauge, most, said)]
    for wanted in (Telling(nought=True, slip=True), Telling(nought=True, slip=now.slip)):
        if now == wanted:
            break
        for said, other_gauge, other_hang in tries:
            found = telling(results, other_gauge, other_hang)
            if found.nought >= wanted.nought and found.slip >= wanted.slip:
                more = "" if found.slip else "; held and slipped read alike here whatever is hung"
                return f"{said} can tell{more}."
    if now.nought:
        return "Held and slipped read alike here whatever is hung."
    return f"No mass and no pointer up to {_FARTHEST_MM:g} mm can: use a gauge that is read finer."


def most_couple_nm(bracket: Bracket, results: Results) -> float:
    """Return the most couple a proof may be hung with: with its factor, and well within what it holds to."""
    couple = bracket.loads.couple.value_nm or 0.0
    most = couple * bracket.loads.couple_factor
    return most if results.holds_to_nm is None else min(most, _SHARE_HELD * results.holds_to_nm)


def _hangs(gauge: GaugePlace, hang: Hang, most_nm: float) -> Iterator[tuple[str, GaugePlace, Hang]]:
    times = 1.0
    while (times := times * _STEP) * hang.couple_nm <= most_nm:
        arm = hang.arm_mm
        if times * hang.mass_kg > HEAVY_KG:
            arm = min(times * hang.mass_kg * hang.arm_mm / HEAVY_KG, _LONGEST_MM)
        mass = math.floor(10.0 * times * hang.mass_kg * hang.arm_mm / arm) / 10.0
        heavier = replace(hang, mass_kg=mass, arm_mm=round(arm))
        if heavier.couple_nm <= most_nm:
            yield f"{mass:.1f} kg at {heavier.arm_mm:g} mm ({heavier.couple_nm:.0f} N.m)", gauge, heavier


def _pointers(gauge: GaugePlace, hang: Hang, hung: str) -> Iterator[tuple[str, GaugePlace, Hang]]:
    """Yield the gauge farther from the shaft, square to the way it reads."""
    across = 0 if abs(gauge.along[1]) > abs(gauge.along[0]) else 1
    place = gauge.at_mm[across]
    if not place:
        return
    while abs(place := place * _STEP) <= _FARTHEST_MM:
        far = math.copysign(math.ceil(abs(place) / 5.0) * 5.0, place)
        at = tuple(far if axis == across else v for axis, v in enumerate(gauge.at_mm))
        said = f"{hung} with the gauge {abs(far):.0f} mm from the shaft, on a stiff pointer clamped to"
        yield f"{said} the casing,", GaugePlace((at[0], at[1], at[2]), gauge.along), hang


def _low(values: list[float], band: float) -> float:
    return min(values) - band * abs(min(values))


def _high(values: list[float], band: float) -> float:
    return max(values) + band * abs(max(values))
