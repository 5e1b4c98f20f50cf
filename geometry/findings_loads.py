"""Findings about loads, limits and the stored result, and the blanks among them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.finding_words import found
from geometry.findings_magnitudes import unit_hint
from geometry.loads import Couple, Loads, MotorTorque, StatedCouple
from geometry.other_loads import OtherLoads

_WANTED: Final[dict[str, dict[str, str]]] = {
    "stated": {"couple_nm": "figure"},
    "torque meters": {"output_nm": "output torque", "input_nm": "input torque"},
    "load cell": {"force_n": "force", "arm_mm": "arm"},
    "motor": {"motor_nm": "motor torque", "ratio": "ratio"},
}
"""What each source of the couple must give, and what people call it."""

NEAREST_WHEEL_MM: Final = 50.0
"""From a casing to the wheel: a hub and a piece of column lie between (common practice, no source)."""
PULL_UNITS: Final = {"kgf": 9.80665, "lbf": 4.448222, "kN": 1000.0}
LEAST_PULL_N: Final = 100.0
"""Whoever gets in by the wheel pulls more (common practice, no source)."""
LEAST_LOSS: Final = 0.02
"""Of one pair of gears, the least that a reduction loses (common practice, no source)."""
MOST_UNSURE: Final = 0.5
"""A couple that may be so much larger is no measured one (common practice, no source)."""


def load_findings(bracket: Bracket) -> Iterator[Finding]:
    """Yield blanks and doubts about loads, every limit looser than the default, and a stale stored result."""
    couple = bracket.loads.couple
    if couple.value_nm is None:
        yield found("blank-couple", "loads, couple", source=couple.source, missing=_missing(couple))
    elif couple.value_nm == 0.0:
        yield found("couple-zero", "loads, couple", source=couple.words)
    elif isinstance(couple, StatedCouple) and not couple.by.strip():
        yield found("couple-no-word", "loads, couple", couple_nm=couple.value_nm)
    elif isinstance(couple, MotorTorque) and couple.back_driving and couple.efficiency > 1.0 - LEAST_LOSS:
        # Driven back, its losses add to the couple: without them it is too small.
        yield found("back-driving-lossless", "loads, couple", efficiency=couple.efficiency)
    elif bracket.loads.couple_uncertainty is None and bracket.loads.couple_may_be_more > MOST_UNSURE:
        yield found(
            "couple-cancels",
            "loads, couple",
            more=bracket.loads.couple_may_be_more,
            couple_nm=couple.value_nm,
        )
    yield from _wheel(bracket)
    if bracket.rake_deg is None:
        yield found("blank-rake", "bracket")
    yield from _other(bracket.loads.other)
    yield from _looser(bracket)
    claim = bracket.claim
    if claim is not None and claim.hash != bracket.input_hash():
        yield found("claim-stale", "claim", verdict=claim.verdict, date=claim.date)


def _wheel(bracket: Bracket) -> Iterator[Finding]:
    """Tell a wheel without a place, or one that no driver sits behind: a pull there bends nothing."""
    wheel, casing = bracket.wheel, bracket.casing
    if wheel is None:
        yield found("blank-wheel", "wheel")
    elif casing is not None:
        top = casing.along_shaft_mm[1]
        if wheel.station_mm <= top:
            yield found("wheel-below-casing", "wheel", station_mm=wheel.station_mm, top_mm=top)
        elif wheel.station_mm < top + NEAREST_WHEEL_MM:
            yield found(
                "wheel-near-casing",
                "wheel",
                station_mm=wheel.station_mm,
                top_mm=top,
                least_mm=NEAREST_WHEEL_MM,
            )


def _other(other: OtherLoads) -> Iterator[Finding]:
    """Yield what is half given, and figures that look like another unit; usual ranges without a source."""
    for what, missing in (("a kerb strike", other.kerb.missing), ("a unit's fault", other.unit.missing)):
        if missing:
            yield found("blank-other-load", "loads", load=what, missing=" and ".join(missing))
    lock, kerb, unit = other.lock, other.kerb, other.unit
    for what, value, quantity, low, high in (
        ("the steering lock's torque", lock.torque_nm, "N.m", 30.0, 600.0),
        ("the peak of a kerb strike", kerb.peak_nm, "N.m", 10.0, 600.0),
        ("the rotor's moment of inertia", kerb.rotor_kgcm2, "kg.cm2", 0.05, 50.0),
        ("the ratio in a kerb strike", kerb.ratio, "to 1", 2.0, 100.0),
        ("the shaft's speed at a kerb", kerb.shaft_deg_per_s, "deg/s", 30.0, 3000.0),
        ("the stiffness of the shaft in twist", kerb.shaft_nm_per_deg, "N.m/deg", 0.2, 500.0),
        ("the motor's most torque", unit.motor_nm, "N.m", 0.2, 30.0),
        ("the ratio of the unit", unit.ratio, "to 1", 2.0, 100.0),
    ):
        if value is not None and not low <= value <= high:
            yield found("size-absurd", "loads", what=what, value=value, unit=quantity, low=low, high=high)


def _looser(bracket: Bracket) -> Iterator[Finding]:
    usual, couple = Loads(), bracket.loads.couple
    factor, usual_factor = bracket.loads.couple_factor, usual.but(couple=couple).couple_factor
    if factor < 1.0:
        yield found("factor-low", "loads", factor=factor)
    elif factor < usual_factor:
        yield found("factor-looser", "loads", factor=factor, usual=usual_factor)
    for what, value, least in (
        ("the driver's pull", bracket.loads.pull_n, usual.pull_n),
        ("weight_g", bracket.loads.weight_g, usual.weight_g),
    ):
        if value < least:
            yield found("load-looser", "loads", what=what, value=value, usual=least)
    yield from _missing_loads(bracket.loads)
    # Below 1 they let through what yields, or slips, by the program's own figures.
    for what, name in (
        ("yield over allowable stress", "yield_factor"),
        ("the factor on slip", "slip_factor"),
    ):
        value = getattr(bracket.limits, name)
        if value < 1.0:
            yield found("limit-low", "limits", limit=what, value=value)
    for name, (value, default) in bracket.limits.looser().items():
        yield found("limit-looser", "limits", limit=name, value=value, usual=default)


def _missing_loads(loads: Loads) -> Iterator[Finding]:
    """Tell a pull and a weight so small that they are left out as good as whole, or in another unit.

    A pure couple can pass where a pull at the wheel folds the linkage flat.
    """
    if loads.pull_n < LEAST_PULL_N:
        hint = unit_hint(loads.pull_n, "N", PULL_UNITS, (LEAST_PULL_N, 2000.0))
        yield found("pull-small", "loads", pull_n=loads.pull_n, least_n=LEAST_PULL_N, hint_unit=hint)
    if loads.weight_g < 1.0:
        yield found("weight-small", "loads", weight_g=loads.weight_g)


def _missing(couple: Couple) -> str:
    wanted = _WANTED[couple.source]
    return " and ".join(words for name, words in wanted.items() if getattr(couple, name) is None)
