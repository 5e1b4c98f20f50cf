"""Findings about casing, column, dash bar and anchors, and about what holds what."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.bar_section import Open, Round, Solid, Tube
from geometry.bolt_tables import UnknownBoltError, bolt_size
from geometry.bracket import Bracket
from geometry.casing import EXAMPLE_NAME, Casing
from geometry.finding import Finding
from geometry.finding_words import found
from geometry.findings_column import ROUGHLY_MM, column_findings
from geometry.fixing import AtAnchor, AtBoss, AtDashBar, AtHole, BarEnd, DashBar
from geometry.materials import UnknownMaterialError, material, same_material
from geometry.survey import Survey, normal_angle_deg
from geometry.weld import AtPlate

LONGEST_LUG_MM: Final = 40.0
"""How far a boss may stand out of the block that encloses the casing (common practice, no source)."""
LEAST_WALL_MM: Final = 2.5
"""Of a hollow section: EN 1993-1-8 7.1.1(5) (from memory, to be verified)."""
SQUARE_DEG: Final = 0.5
"""Out of square by less than this cannot be measured under a dash (common practice, no source)."""
ALONG_DEG: Final = 45.0
"""From here on a plate lies along the shaft rather than across it."""

_CASING: Final = ("casing", "")
_SUPPORT: Final = ("support", "")


def casing_findings(survey: Survey) -> Iterator[Finding]:
    """Yield what is wrong with casing, column, dash bar and anchors, and every part that nothing holds."""
    bracket = survey.bracket
    yield from _names(bracket)
    if not bracket.plates:
        yield found("no-plates", "bracket")
    if bracket.casing is None:
        yield found("no-casing", "bracket")
    else:
        yield from _casing(bracket.casing)
    yield from column_findings(bracket)
    if bracket.dash_bar is not None:
        yield from _bar(bracket, bracket.dash_bar)
    for anchor in bracket.anchors:
        if not anchor.word.strip():
            yield found("anchor-no-word", f"anchor {anchor.name}")
    for bolt in bracket.bolts:
        if bolt.spacer is not None:
            yield from _known_material(bracket, f"bolt {bolt.name}, spacer", bolt.spacer.material)
    yield from _held(bracket)
    yield from _square(survey)


def _names(bracket: Bracket) -> Iterator[Finding]:
    lists: list[tuple[str, str, Iterable[str]]] = [
        ("bracket", "plates", (p.name for p in bracket.plates)),
        ("bracket", "bolts", (b.name for b in bracket.bolts)),
        ("bracket", "welds", (w.name for w in bracket.welds)),
        ("bracket", "anchors", (a.name for a in bracket.anchors)),
        ("bracket", "shaft joints", (j.name for j in bracket.shaft_joints)),
        ("bracket", "materials", _as_first_written([m.name for m in bracket.materials])),
        ("column", "bearings", (b.name for b in bracket.column.bearings)),
        ("loads", "load cases", (c.name for c in bracket.loads.extra)),
    ]
    counted = Counter(variant.name for variant in bracket.variants)
    for name, count in counted.items():
        if count > 1:  # a note: what is judged is not among them
            yield found("name-doubled", f"bracket, {name}", severity="note", count=count, what="variants")
    # Results name what moves by its plate, and the casing `casing`.
    parts = [p.name for p in bracket.plates if p.name == _CASING[0]]
    lists.append(("bracket", "parts, casing and plate,", (_CASING[0], *parts)))
    if bracket.casing is not None:
        lists.append(("casing", "bosses", (b.name for b in bracket.casing.bosses)))
    for plate in bracket.plates:
        lists.append((f"plate {plate.name}", "openings", (o.name for o in plate.openings)))
        lists.append((f"plate {plate.name}", "fold lines", (f.name for f in plate.folds)))
    for where, what, names in lists:
        counts: dict[str, int] = {}
        for name in names:
            counts[name] = counts.get(name, 0) + 1
        for name, count in counts.items():
            if count > 1:
                yield found("name-doubled", f"{where}, {name}", count=count, what=what)


def _as_first_written(names: Sequence[str]) -> Iterator[str]:
    """Yield the names of materials, those that find the same one alike."""
    for name in names:
        yield next(first for first in names if same_material(first, name))


def _casing(casing: Casing) -> Iterator[Finding]:
    where = f"casing {casing.name}" if casing.name != "casing" else "casing"
    if casing.name == EXAMPLE_NAME:
        yield found("blank-casing", where)
    if not casing.bosses:
        yield found("no-bosses", where)
    for axis, low, high in zip("XYZ", casing.envelope.low_mm, casing.envelope.high_mm, strict=True):
        if low >= high:
            yield found("envelope-inside-out", where, axis=axis, low=low, high=high)
    yield from _enclosed(casing, where)
    for boss in casing.bosses:
        if float(np.linalg.norm(boss.direction)) < 1e-9:
            yield found("direction-no-length", f"boss {boss.name}")
        try:
            size = bolt_size(boss.thread)
        except UnknownBoltError as error:
            yield found("thread-unknown", f"boss {boss.name}", reason=str(error))
        else:
            if boss.face_diameter_mm <= size.diameter_mm:
                yield found(
                    "boss-face-small", f"boss {boss.name}", face_mm=boss.face_diameter_mm, thread=boss.thread
                )


def _enclosed(casing: Casing, where: str) -> Iterator[Finding]:
    """Tell a mass centre outside the block that encloses the casing, and bosses far off it.

    A sign, other axes, or a block in another unit: movement is looked at on its corners.
    """
    if (outside := _outside_mm(casing, casing.mass_centre_mm)) > ROUGHLY_MM:
        yield found("mass-centre-outside", where, by_mm=outside)
    for boss in casing.bosses:
        if (outside := _outside_mm(casing, boss.at_mm)) > LONGEST_LUG_MM:
            yield found("boss-outside", f"boss {boss.name}", by_mm=outside)


def _outside_mm(casing: Casing, place: Sequence[float]) -> float:
    """Return how far a place lies outside the block that encloses the casing; 0 within it."""
    corners = np.asarray([casing.envelope.low_mm, casing.envelope.high_mm])
    return float(np.linalg.norm(place - np.clip(place, corners.min(axis=0), corners.max(axis=0))))


def _bar(bracket: Bracket, bar: DashBar) -> Iterator[Finding]:
    where = bar.name
    along = np.asarray(bar.to_mm) - np.asarray(bar.from_mm)
    length = float(np.linalg.norm(along))
    if length < 1e-6:
        yield found("bar-no-length", where)
    elif not isinstance(bar.section, Round):
        up = np.asarray(bar.up)
        if float(np.linalg.norm(np.cross(up, along))) < 1e-3 * length * max(float(np.linalg.norm(up)), 1e-12):
            yield found("bar-up", where)
    across = (
        bar.section.outer_mm
        if isinstance(bar.section, Round)
        else min(bar.section.width_mm, bar.section.height_mm)
    )
    if bar.section.wall_mm >= across / 2.0 and not isinstance(bar.section, Solid):
        yield found("bar-wall", where, wall_mm=bar.section.wall_mm, across_mm=across)
    unknown = [*_known_material(bracket, where, bar.material)]
    yield from unknown
    if not unknown:
        yield from _bar_strength(bracket, bar)
    bolted = any(isinstance(bolt.joins, AtDashBar) for bolt in bracket.bolts)
    if bolted and isinstance(bar.section, Tube) and bar.section.wall_mm < LEAST_WALL_MM - 1e-9:
        yield found("bar-wall-below-rules", where, wall_mm=bar.section.wall_mm, least_mm=LEAST_WALL_MM)
    if isinstance(bar.section, Open):
        yield found("bar-open", where, section=bar.section.kind)
    yield from _bar_ends(bar)
    if length >= 1e-6:
        yield from _stays(bar, along / length, length)


def _bar_strength(bracket: Bracket, bar: DashBar) -> Iterator[Finding]:
    """Tell where the bar's metal is thicker than the table knows: its stress would go unjudged."""
    metal, wall = material(bar.material, bracket.materials), bar.section.wall_mm
    if None in (metal.yield_mpa(wall), metal.tensile_mpa(wall)):
        yield found("material-thickness", bar.name, material=metal.name, thickness_mm=wall)


def _bar_ends(bar: DashBar) -> Iterator[Finding]:
    where = bar.name
    kinds = (bar.ends[0].kind, bar.ends[1].kind)
    holding = [end for end in bar.ends if end.kind != "free"]
    if not holding or (len(holding) == 1 and _bends_freely(holding[0])):
        yield found("bar-loose", where, first=kinds[0], second=kinds[1])
    for number, end in enumerate(bar.ends, start=1):
        if end.kind == "stiffness" and end.bending_nm_per_deg is None:
            yield found("blank-bar-end", where, end=number)
        if end.kind != "free" and not (end.seen_by or "").strip():
            yield found("bar-end-unseen", where, end=number, kind=end.kind)


def _bends_freely(end: BarEnd) -> bool:
    """Return whether an end leaves the bar free to turn about it, at the low side of what it may hold."""
    if end.kind == "stiffness":
        return end.bending_nm_per_deg is not None and end.bending_nm_per_deg[0] == 0.0
    return end.kind in ("pinned", "bolted flange")


def _stays(bar: DashBar, along: NDArray[np.float64], length: float) -> Iterator[Finding]:
    for number, stay in enumerate(bar.stays, start=1):
        where = f"{bar.name}, stay {number}"
        if stay.station_mm > length:
            yield found("stay-off-bar", where, station_mm=stay.station_mm, length_mm=length)
        direction = np.asarray(stay.direction)
        size = float(np.linalg.norm(direction))
        if size < 1e-9:
            yield found("stay-no-direction", where)
        elif abs(float(direction @ along)) > 0.95 * size:
            yield found("stay-along-bar", where)
        if not (stay.seen_by or "").strip():
            yield found("stay-unseen", where)


def _known_material(bracket: Bracket, where: str, name: str) -> Iterator[Finding]:
    try:
        material(name, bracket.materials)
    except UnknownMaterialError as error:
        yield found("material-unknown", where, reason=str(error))


def _held(bracket: Bracket) -> Iterator[Finding]:
    """Follow bolts and welds from plate to plate: to the casing one way, to what holds it the other."""
    if not bracket.bolts or bracket.casing is None:
        return
    near: dict[tuple[str, str], set[tuple[str, str]]] = {}
    for bolt in bracket.bolts:
        ends = ("plate", bolt.plate), _end_of(bolt.joins)
        near.setdefault(ends[0], set()).add(ends[1])
        near.setdefault(ends[1], set()).add(ends[0])
    for weld in bracket.welds:
        edge = ("plate", weld.plate)
        end = ("plate", weld.joins.plate) if isinstance(weld.joins, AtPlate) else _SUPPORT
        near.setdefault(edge, set()).add(end)
        near.setdefault(end, set()).add(edge)
    from_casing, from_support = _reached(near, _CASING), _reached(near, _SUPPORT)
    if _SUPPORT not in from_casing:
        yield found("casing-unheld", "casing")
    for plate in bracket.plates:
        node = ("plate", plate.name)
        where = f"plate {plate.name}"
        if node not in near:
            yield found("plate-loose", where)
        elif node not in from_casing and node not in from_support:
            yield found("plate-unheld", where)
        elif node not in from_support:
            yield found("plate-one-sided", where, side="the casing", other="the dash bar or an anchor")
        elif node not in from_casing:
            yield found("plate-one-sided", where, side="what holds it", other="the casing")


def _end_of(joins: AtHole | AtBoss | AtDashBar | AtAnchor) -> tuple[str, str]:
    match joins:
        case AtHole():
            return ("plate", joins.plate)
        case AtBoss():
            return _CASING
        case _:
            return _SUPPORT


def _reached(
    near: dict[tuple[str, str], set[tuple[str, str]]], start: tuple[str, str]
) -> set[tuple[str, str]]:
    """Return all that bolts lead to from a start, not passing through the casing or a support on the way."""
    reached, waiting = {start}, [start]
    while waiting:
        here = waiting.pop()
        if here != start and here in (_CASING, _SUPPORT):
            continue
        fresh = near.get(here, set()) - reached
        reached |= fresh
        waiting += fresh
    return reached


def _square(survey: Survey) -> Iterator[Finding]:
    told: set[str] = set()
    for place in survey.heads:
        if place.partner != "boss" or place.plate in told:
            continue
        angle = normal_angle_deg(place.frame)
        if angle > SQUARE_DEG:
            told.add(place.plate)
            code = "plate-out-of-square" if angle < ALONG_DEG else "plate-along-shaft"
            yield found(code, f"plate {place.plate}", angle_deg=angle)
