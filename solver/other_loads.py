"""What steering lock, kerb strike, a unit that runs away or seizes put on the casing.

And what they do not put on it.
None has a source: they are common practice, counted as typed, without the couple's factor, both ways, with
the weight.
"""

from __future__ import annotations

from dataclasses import dataclass

from geometry.bracket import Bracket

PRACTICE = "common practice, no source"
_HANDS = 2.0


@dataclass(frozen=True)
class OtherLoad:
    """One of them."""

    name: str
    couple_nm: float | None
    """On the casing about the shaft, both ways; None where the casing has nothing of it, or where it is not
    counted."""
    words: str
    """A sentence: what it loads, and whence the figure; empty where it is not counted."""


def other_loads(bracket: Bracket) -> tuple[OtherLoad, ...]:
    """Return each of them, counted or not."""
    return (_lock(bracket), _kerb(bracket), _runaway(bracket), _seized(bracket))


def other_load_words(bracket: Bracket) -> list[str]:
    """Return a sentence for each that was typed, and one for all that were not."""
    loads = other_loads(bracket)
    silent = [load.name for load in loads if not load.words]
    told = [load.words for load in loads if load.words]
    return [*told, f"Not counted, since nobody gave figures: {', '.join(silent)}."] if silent else told


def _lock(bracket: Bracket) -> OtherLoad:
    name, lock = "steering lock", bracket.loads.other.lock
    if lock.torque_nm is None:
        return OtherLoad(name, None, "")
    if lock.borne_by == "column":
        words = (
            f"The steering lock's {lock.torque_nm:g} N.m load the shaft and the column's own mount, not the"
            " casing."
        )
        return OtherLoad(name, None, words)
    words = (
        f"The steering lock stops the shaft against a tube that the casing holds: {lock.torque_nm:g} N.m load"
        f" shaft and casing ({PRACTICE})."
    )
    return OtherLoad(name, lock.torque_nm, words)


def _kerb(bracket: Bracket) -> OtherLoad:
    name, kerb = "kerb strike", bracket.loads.other.kerb
    couple = kerb.value_nm
    if couple is None:
        return OtherLoad(name, None, "")
    how = (
        "as stated"
        if kerb.peak_nm is not None
        else f"from the rotor's energy, {kerb.rotor_kgcm2:g} kg.cm2 x {kerb.ratio:g} squared at"
        f" {kerb.shaft_deg_per_s:g} deg/s into a twist of {kerb.shaft_nm_per_deg:g} N.m/deg,"
    )
    words = (
        f"A kerb stops the shaft and the rotor runs on through the gear: {couple:.3g} N.m {how} load shaft"
        " and casing; what the road wheel itself puts into the shaft goes past the casing to the wheel"
        f" ({PRACTICE})."
    )
    return OtherLoad(name, couple, words)


def _runaway(bracket: Bracket) -> OtherLoad:
    name, unit = "runaway unit", bracket.loads.other.unit
    couple = unit.value_nm
    if couple is None:
        return OtherLoad(name, None, "")
    words = (
        f"A unit that runs away against a wheel held fast: {unit.motor_nm:g} N.m x {unit.ratio:g} ="
        f" {couple:.3g} N.m load shaft and casing ({PRACTICE})."
    )
    return OtherLoad(name, couple, words)


def _seized(bracket: Bracket) -> OtherLoad:
    """Return what a seized gear passes on: the driver's two hands; it is counted with the runaway unit."""
    name, wheel, pull = "seized unit", bracket.wheel, bracket.loads.pull_n
    if bracket.loads.other.unit.value_nm is None or wheel is None or pull == 0.0:
        return OtherLoad(name, None, "")
    couple = _HANDS * pull * wheel.diameter_mm / 2.0 / 1000.0
    words = (
        f"A seized gear ties the shaft to the casing: two hands at the wheel, {pull:g} N each on"
        f" {wheel.diameter_mm:g} mm, so {couple:.3g} N.m load shaft and casing ({PRACTICE})."
    )
    return OtherLoad(name, couple, words)
