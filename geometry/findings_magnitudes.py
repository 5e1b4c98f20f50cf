"""Findings about figures that look like another unit, or like nothing a bracket has.

The usual ranges are common practice, without a source: they only ask for a second look.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from geometry.bar_section import Round
from geometry.bolt_tables import BoltSize
from geometry.bracket import Bracket
from geometry.casing import BossMetal
from geometry.digits import percent_apart
from geometry.finding import Finding
from geometry.finding_words import found
from geometry.fixing import Bolt
from geometry.part import Place
from geometry.survey import Survey

USUAL_COUPLE_NM: Final = (10.0, 100.0)
POSSIBLE_COUPLE_NM: Final = (5.0, 250.0)
COUPLE_UNITS: Final = {
    "N.mm": 0.001,
    "lbf.in": 0.1129848,
    "kgf.cm": 0.0980665,
    "lbf.ft": 1.355818,
    "kgf.m": 9.80665,
}
USUAL_MASS_KG: Final = (0.5, 40.0)
MASS_UNITS: Final = {"g": 0.001, "lb": 0.4535924}
USUAL_STIFFNESS_N_PER_MM: Final = (10.0, 1e6)
STIFFEST_LEAST_N_PER_MM: Final = 1e5
"""Of the low end of a range: 100 mm2 of steel 200 mm long are as stiff along themselves (closed form), and no
column or stay is sure to be stiffer where it is held."""
STIFFNESS_UNITS: Final = {"N/m": 0.001, "kN/mm": 1000.0, "lbf/in": 0.1751268}
USUAL_BAR_MM: Final = (100.0, 2500.0)
MOST_DEPTH_MM: Final = 100.0
MOST_LENGTH_MM: Final = 300.0
BOSS_TENSILE_MPA: Final[dict[BossMetal, tuple[float, float]]] = {
    "cast aluminium": (80.0, 450.0),
    "cast iron": (100.0, 900.0),
    "steel": (300.0, 1500.0),
}
"""Of a boss that somebody states: from the weakest to the strongest anybody casts or turns."""
MOST_FACTOR: Final = 10.0
MOST_TOLERANCE: Final = 0.25
"""Share of its thickness that a sheet may be thinner, at most."""
FARTHEST_MM: Final = 4000.0
LEAST_STRESS_MPA: Final = 40.0
GREATEST_STRESS_MPA: Final = 1300.0
"""In a tightened bolt: above the tensile strength of any grade in the table."""
NUT_FACTOR: Final = 0.2
"""Torque = 0.2 x preload x diameter, roughly (common practice); only to tell a wrong unit, and a spacer that
would be crushed: at usual friction there is more preload than that."""
SUREST_PRELOAD: Final = 1.1
"""High end over low end, at the least, of a preload that was measured by how much longer the bolt got: VDI
2230 table A8 (from memory, to be verified)."""
SUREST_SCATTER: Final = 0.16
"""Of a torque by the surest wrench after many trials, high end over low end 1.4 by VDI 2230 table A8 (from
memory, to be verified): 0.4 / 2.4, cut off after two places."""
USUAL_FRICTION: Final = {"face friction": (0.05, 0.5), "thread friction": (0.04, 0.4)}
"""Up to class A of EN 1090-2 for faces."""


def magnitude_findings(survey: Survey) -> Iterator[Finding]:
    """Yield every figure that is beyond what it usually is."""
    bracket = survey.bracket
    yield from _couple(bracket)
    yield from _casing(bracket)
    yield from _column(bracket)
    yield from _bar(bracket)
    yield from _wheel(bracket)
    for where, place in _places(bracket):
        if (distance := math.hypot(*place)) > FARTHEST_MM:
            yield found("place-far", where, distance_mm=distance)
    for plate in bracket.plates:
        tolerance = plate.thickness_tolerance_mm
        if tolerance is not None and tolerance > MOST_TOLERANCE * plate.thickness_mm:
            where = f"plate {plate.name}"
            yield found("tolerance-absurd", where, tolerance_mm=tolerance, thickness_mm=plate.thickness_mm)
    for bolt in bracket.bolts:
        yield from _bolt(bolt, survey.sizes.get(bolt.size))


def unit_hint(value: float, unit: str, others: dict[str, float], usual: tuple[float, float]) -> str:
    """Return which other units would bring a value into its usual range, in words; empty if none does."""
    low, high = usual
    would = [
        f"{value * by:.3g} {unit} if it was given in {other}"
        for other, by in others.items()
        if low <= value * by <= high
    ]
    return f"; it would be {' or '.join(would)}" if would else ""


def _couple(bracket: Bracket) -> Iterator[Finding]:
    couple = bracket.loads.couple.value_nm
    if couple is None or couple == 0.0:
        return
    low, high = USUAL_COUPLE_NM
    hint = unit_hint(couple, "N.m", COUPLE_UNITS, USUAL_COUPLE_NM)
    if not POSSIBLE_COUPLE_NM[0] <= couple <= POSSIBLE_COUPLE_NM[1]:
        yield found("couple-unit", "loads, couple", couple_nm=couple, low=low, high=high, hint_unit=hint)
    elif not low <= couple <= high:
        yield found("couple-unusual", "loads, couple", couple_nm=couple, hint_unit=hint)


def _casing(bracket: Bracket) -> Iterator[Finding]:
    casing = bracket.casing
    if casing is None:
        return
    low, high = USUAL_MASS_KG
    if not low <= casing.mass_kg <= high:
        hint = unit_hint(casing.mass_kg, "kg", MASS_UNITS, USUAL_MASS_KG)
        yield found("mass-absurd", "casing", mass_kg=casing.mass_kg, low=low, high=high, hint_unit=hint)
    for boss in casing.bosses:
        if not 5.0 <= boss.face_diameter_mm <= 100.0:
            yield _size(f"boss {boss.name}", "its face", boss.face_diameter_mm, "mm", (5.0, 100.0))
        if boss.tensile_mpa is not None:
            usual = BOSS_TENSILE_MPA[boss.metal]
            if not usual[0] <= boss.tensile_mpa <= usual[1]:
                what = f"the tensile strength of its {boss.metal}"
                yield _size(f"boss {boss.name}", what, boss.tensile_mpa, "MPa", usual)
        if boss.depth_mm is not None and boss.depth_mm > MOST_DEPTH_MM:
            yield _size(f"boss {boss.name}", "its depth of thread", boss.depth_mm, "mm", (5.0, MOST_DEPTH_MM))


def _column(bracket: Bracket) -> Iterator[Finding]:
    column = bracket.column
    ranges = [(f"bearing {bearing.name}", bearing.stiffness_n_per_mm) for bearing in column.bearings]
    if column.mount is not None:
        name = f"column mount {column.mount.name}"
        ranges += [
            (f"{name}, sideways", column.mount.sideways_n_per_mm),
            (f"{name}, along", column.mount.along_n_per_mm),
        ]
    if (bar := bracket.dash_bar) is not None:
        ranges += [(f"{bar.name}, stay {n}", s.stiffness_n_per_mm) for n, s in enumerate(bar.stays, start=1)]
    low, high = USUAL_STIFFNESS_N_PER_MM
    for where, (least, most) in ranges:
        if least == 0.0:
            yield found("stiffness-zero", where)
        for value, upper in {most: high, least: STIFFEST_LEAST_N_PER_MM}.items():
            if value and not low <= value <= upper:
                hint = unit_hint(value, "N/mm", STIFFNESS_UNITS, (100.0, STIFFEST_LEAST_N_PER_MM))
                yield found("stiffness-absurd", where, value=value, low=low, high=upper, hint_unit=hint)


def _bar(bracket: Bracket) -> Iterator[Finding]:
    bar = bracket.dash_bar
    if bar is None:
        return
    length = math.dist(bar.from_mm, bar.to_mm)
    low, high = USUAL_BAR_MM
    if length > 1e-6 and not low <= length <= high:
        yield found("bar-size-absurd", bar.name, length_mm=length, low=low, high=high)
    if bar.section.wall_mm < 0.5:
        yield found("bar-wall-thin", bar.name, wall_mm=bar.section.wall_mm)
    across = (
        [bar.section.outer_mm]
        if isinstance(bar.section, Round)
        else [bar.section.width_mm, bar.section.height_mm]
    )
    for value in across:
        if not 10.0 <= value <= 200.0:
            yield _size(bar.name, "its section", value, "mm", (10.0, 200.0))


def _wheel(bracket: Bracket) -> Iterator[Finding]:
    wheel = bracket.wheel
    if wheel is not None and not 200.0 <= wheel.diameter_mm <= 600.0:
        yield _size("wheel", "its diameter", wheel.diameter_mm, "mm", (200.0, 600.0))
    if bracket.loads.pull_n > 2000.0:
        yield _size("loads", "the driver's pull", bracket.loads.pull_n, "N", (300.0, 2000.0))
    if bracket.loads.couple_factor > MOST_FACTOR:
        yield _size(
            "loads", "the factor on the couple", bracket.loads.couple_factor, "times", (1.0, MOST_FACTOR)
        )
    if bracket.loads.weight_g > 30.0:
        yield _size("loads", "the weight counted", bracket.loads.weight_g, "g", (3.0, 30.0))


def _places(bracket: Bracket) -> Iterator[tuple[str, Place]]:
    for plate in bracket.plates:
        yield f"plate {plate.name}, placement", plate.placement.origin_mm
    if bracket.casing is not None:
        yield "casing", (0.0, 0.0, bracket.casing.station_mm)
        yield "casing, mass centre", bracket.casing.mass_centre_mm
        yield "casing, envelope", bracket.casing.envelope.high_mm
        for boss in bracket.casing.bosses:
            yield f"boss {boss.name}", boss.at_mm
    for bearing in bracket.column.bearings:
        yield f"bearing {bearing.name}", (0.0, 0.0, bearing.station_mm)
    if bracket.column.mount is not None:
        yield f"column mount {bracket.column.mount.name}", (0.0, 0.0, bracket.column.mount.station_mm)
    if bracket.wheel is not None:
        yield "wheel", (0.0, 0.0, bracket.wheel.station_mm)
    for anchor in bracket.anchors:
        if anchor.at_mm is not None:
            yield f"anchor {anchor.name}", anchor.at_mm
    if bracket.dash_bar is not None:
        yield bracket.dash_bar.name, bracket.dash_bar.from_mm
        yield bracket.dash_bar.name, bracket.dash_bar.to_mm


def _bolt(bolt: Bolt, size: BoltSize | None) -> Iterator[Finding]:
    where = f"bolt {bolt.name}"
    for what, value in (("face friction", bolt.face_friction), ("thread friction", bolt.thread_friction)):
        low, high = USUAL_FRICTION[what]
        if value is not None and not low <= value <= high:
            yield found("friction-absurd", where, what=what, value=value, low=low, high=high)
    if bolt.length_mm is not None and bolt.length_mm > MOST_LENGTH_MM:
        yield _size(where, "its length", bolt.length_mm, "mm", (8.0, MOST_LENGTH_MM))
    if size is None:
        return
    if bolt.preload_n is not None:
        least, most = bolt.preload_n
        if least > 0.0 and most < SUREST_PRELOAD * least * (1.0 - 1e-9):
            yield found("preload-too-sure", where, low_n=least, high_n=most, ratio=SUREST_PRELOAD)
        stress = bolt.preload_n[1] / size.stress_area_mm2
        if stress > GREATEST_STRESS_MPA:
            yield found(
                "preload-absurd", where, preload_n=bolt.preload_n[1], size=size.name, stress_mpa=stress
            )
    if bolt.tightening_nm is not None:
        yield from _torque(where, bolt, bolt.tightening_nm, size)


def _torque(where: str, bolt: Bolt, torque_nm: float, size: BoltSize) -> Iterator[Finding]:
    if bolt.preload_n is None and bolt.scatter < SUREST_SCATTER:
        yield found(
            "scatter-too-sure",
            where,
            scatter=bolt.scatter,
            said=percent_apart(bolt.scatter, SUREST_SCATTER),
            least_percent=100.0 * SUREST_SCATTER,
        )
    per_nm = 1000.0 / (NUT_FACTOR * size.diameter_mm * size.stress_area_mm2)
    stress = torque_nm * per_nm
    if not LEAST_STRESS_MPA <= stress <= GREATEST_STRESS_MPA:
        usual = (200.0 / per_nm, 900.0 / per_nm)
        yield found(
            "tightening-absurd",
            where,
            torque_nm=torque_nm,
            size=size.name,
            stress_mpa=stress,
            way="much" if stress > GREATEST_STRESS_MPA else "little",
            hint_unit=unit_hint(torque_nm, "N.m", COUPLE_UNITS, usual),
        )


def _size(where: str, what: str, value: float, unit: str, usual: tuple[float, float]) -> Finding:
    return found("size-absurd", where, what=what, value=value, unit=unit, low=usual[0], high=usual[1])
