"""Findings about welds: what they name, where they lie, their size, and metals that do not take one."""

from __future__ import annotations

import difflib
import math
from collections.abc import Iterable, Iterator
from itertools import combinations
from typing import Final

import numpy as np
import shapely

from geometry.bar_section import Round, Solid
from geometry.finding import Finding
from geometry.finding_words import found
from geometry.fixing import AtAnchor, AtDashBar, DashBar
from geometry.flat_pattern import flat_pattern
from geometry.materials import Kind, Material, UnknownMaterialError, material
from geometry.plate import Plate
from geometry.survey import PlateShape, Survey
from geometry.weld import LEG_PER_THROAT, AtPlate, Weld
from geometry.weld_places import WeldPlace, crossed_fold, edge_under, place_weld

LEAST_THROAT_MM: Final = 3.0
"""EN 1993-1-8 4.5.2(2) (from memory, to be verified)."""
LARGEST_SHARE: Final = 0.7
"""Throat over the thickness of the thinner sheet, at most (common practice, no source)."""
SQUARE_DEG: Final = 5.0
STEEP_DEG: Final = 30.0
"""EN 1993-1-8 4.3.2.1: 60 to 120 deg between the parts (from memory, to be verified)."""
OVERLAP_MM: Final = 0.3
SAME_SIZE: Final = 0.05
BESIDE_FOLD: Final = 5.0
"""Thicknesses beside a bend that EN 1993-1-8 4.14 speaks of."""
NEAR_FOLD_MM: Final = ((10.0, 16.0), (3.0, 12.0), (2.0, 10.0), (1.5, 8.0), (1.0, 4.0), (0.0, 0.0))
"""(inside radius over thickness at least, thickest sheet welded within five thicknesses), EN 1993-1-8 table
4.2 under mostly fatigue (from memory, to be verified)."""
_LOOSE_RATIO: Final = 25.0
_TOUCHES_MM: Final = 1e-6
STRONGEST_MPA: Final[dict[Kind, float]] = {"steel": 460.0, "stainless": 460.0, "aluminium": 300.0}
"""Yield up to which a weld is reckoned: EN 1993-1-8 ends at S460; EN 1999-1-1 lists 7020-T6, 280 MPa, as the
strongest that is welded (both from memory, to be verified)."""
HARDENING: Final = ("4130 normalised",)


def least_length_mm(throat_mm: float) -> float:
    """Return the least length that carries: EN 1993-1-8 4.5.1(2) (from memory, to be verified)."""
    return max(30.0, 6.0 * throat_mm)


def effective_length_mm(weld: Weld, throat_mm: float) -> float:
    """Return the length less a throat at each end that is not full: EN 1993-1-8 4.5.1(1) (from memory)."""
    return weld.length_mm - (0.0 if weld.full_at_ends else 2.0 * throat_mm)


def bridged_gap_mm(throat_mm: float) -> float:
    """Return the widest gap at the root: ISO 5817 level B, 0.5 mm + 0.1 a, at most 2 (from memory)."""
    return min(0.5 + 0.1 * throat_mm, 2.0)


def weld_findings(known: Survey) -> Iterator[Finding]:
    """Yield what is wrong with the welds."""
    shapes = {shape.plate.name: shape for shape in reversed(known.shapes)}
    for weld in known.bracket.welds:
        where = f"weld {weld.name}"
        named = [*_names(known, where, weld)]
        yield from named
        yield from _size(where, weld)
        if not (weld.seen_by or "").strip():
            yield found("weld-unseen", where)
        if named or weld.plate not in shapes:
            continue
        yield from _on_edge(where, weld, shapes[weld.plate])
        yield from _metals(known, where, weld)
        place = place_weld(known.bracket, weld)
        if place is not None:
            yield from _meeting(known, where, place, shapes)
            yield from _proportions(where, place)
    yield from _doubles(known.bracket.welds)


def _names(known: Survey, where: str, weld: Weld) -> Iterator[Finding]:
    plates = [plate.name for plate in known.bracket.plates]
    if weld.plate not in plates:
        yield _unknown("weld-plate-unknown", where, weld.plate, plates)
    match weld.joins:
        case AtPlate():
            if weld.joins.plate == weld.plate:
                yield found("weld-to-itself", where, name=weld.plate)
            elif weld.joins.plate not in plates:
                yield _unknown("weld-partner-unknown", where, weld.joins.plate, plates, "plate")
        case AtAnchor():
            anchors = [anchor.name for anchor in known.bracket.anchors]
            if weld.joins.anchor not in anchors:
                yield _unknown("weld-partner-unknown", where, weld.joins.anchor, anchors, "anchor")
        case AtDashBar():
            if known.bracket.dash_bar is None:
                yield _unknown("weld-partner-unknown", where, "dash bar", [], "part")


def _unknown(code: str, where: str, name: str, names: Iterable[str], what: str = "plate") -> Finding:
    listed = list(names)
    near = difflib.get_close_matches(name[:60], listed, n=1, cutoff=0.6)
    told = ", ".join(listed) or "none"
    return found(code, where, name=name, known=told, near=near[0] if near else "", what=what)


def _size(where: str, weld: Weld) -> Iterator[Finding]:
    throat, leg = weld.throat_mm, weld.leg_mm
    if throat is None and leg is None:
        yield found("blank-weld-size", where)
    if throat is not None and leg is not None and abs(throat * LEG_PER_THROAT - leg) > SAME_SIZE * leg:
        yield found("weld-size-twice", where, throat_mm=throat, leg_mm=leg)
    size = weld.size_mm
    if size is not None and size < LEAST_THROAT_MM - 1e-9:
        yield found("weld-thin", where, throat_mm=size)


def _on_edge(where: str, weld: Weld, shape: PlateShape) -> Iterator[Finding]:
    if shape.fold_map is None:
        return
    if weld.length_mm < 1e-6:
        yield found("weld-no-length", where)
        return
    plate = shape.plate
    if edge_under(flat_pattern(plate), weld) is None:
        (x1, y1), (x2, y2) = weld.from_mm, weld.to_mm
        yield found("weld-off-outline", where, x1=x1, y1=y1, x2=x2, y2=y2, plate=plate.name)
        return
    crossed = crossed_fold(shape.fold_map, weld)
    if crossed is not None:
        yield found("weld-across-fold", where, fold=crossed)
        return
    yield from _near_folds(where, shape, shapely.LineString([weld.from_mm, weld.to_mm]))


def _near_folds(where: str, shape: PlateShape, line: shapely.LineString) -> Iterator[Finding]:
    """Yield the folds of a plate too near a weld on it; one that is run over is told by itself."""
    thickness = shape.plate.thickness_mm
    for zone in shape.bends:
        off = float(shapely.distance(zone.polygon, line))
        ratio = zone.fold.inside_radius_mm / thickness
        reach = BESIDE_FOLD * thickness
        if off < _TOUCHES_MM or off >= reach or ratio >= _LOOSE_RATIO:
            continue
        most = next(thick for least, thick in NEAR_FOLD_MM if ratio >= least)
        if thickness > most:
            yield found(
                "weld-near-fold",
                where,
                off_mm=off,
                fold=zone.fold.name,
                plate=shape.plate.name,
                ratio=ratio,
                most_mm=most,
                least_mm=math.ceil(reach),
            )


def _meeting(known: Survey, where: str, place: WeldPlace, shapes: dict[str, PlateShape]) -> Iterator[Finding]:
    partner = f"plate {place.partner_name}" if place.partner == "plate" else place.partner_name
    partner = f"anchor {partner}" if place.partner == "anchor" else partner
    gaps = place.gaps_mm
    if np.isnan(gaps).any():
        yield found("weld-passes-by", where, partner=partner)
    widest, deepest = (float(f(gaps[~np.isnan(gaps)], initial=0.0)) for f in (np.max, np.min))
    most = bridged_gap_mm(place.throat_mm)
    if widest > most:
        yield found("weld-gap", where, gap_mm=widest, most_mm=most, partner=partner)
    if deepest < -OVERLAP_MM:
        yield found("weld-runs-in", where, deep_mm=-deepest, partner=partner)
    if place.tilt_deg > STEEP_DEG:
        yield found("weld-steep", where, tilt_deg=place.tilt_deg, partner=partner)
    elif place.tilt_deg > SQUARE_DEG:
        yield found("weld-tilted", where, tilt_deg=place.tilt_deg, partner=partner)
    if place.partner_flat_mm is not None:
        line = shapely.LineString(place.partner_flat_mm)
        yield from _near_folds(where, shapes[place.partner_name], line)
    if place.partner_bends:
        line = shapely.LineString(place.partner_flat_mm or ())
        zones = shapes[place.partner_name].bends
        fold = min(zones, key=lambda zone: float(shapely.distance(zone.polygon, line))).fold.name
        yield found("weld-over-fold", where, fold=fold, partner=place.partner_name)
    bar = known.bracket.dash_bar
    if place.partner == "dash bar" and bar is not None and not _on_side_wall(bar, place):
        yield found("weld-bar-wall", where, wall_mm=bar.section.wall_mm)


def _on_side_wall(bar: DashBar, place: WeldPlace) -> bool:
    """Return whether a weld stands right over a wall that runs away from it, or on a bar without a bore."""
    section = bar.section
    if isinstance(section, Solid):
        return True
    if isinstance(section, Round):
        return False
    start, end = np.asarray(bar.from_mm, dtype=float), np.asarray(bar.to_mm, dtype=float)
    along = (end - start) / np.linalg.norm(end - start)
    out = place.frame[:, 1]
    # Across the face, from the bar's middle line: only a weld along the bar can stand over a side wall.
    beside = np.cross(along, out)
    offs = np.abs((place.ends_mm - start) @ beside)
    up = np.asarray(bar.up, dtype=float)
    upright = up - (up @ along) * along
    upright /= max(float(np.linalg.norm(upright)), 1e-300)
    across = section.height_mm if abs(float(beside @ upright)) > math.sqrt(0.5) else section.width_mm
    return bool((across / 2.0 - offs <= 1.5 * section.wall_mm + 1e-6).all())


def _proportions(where: str, place: WeldPlace) -> Iterator[Finding]:
    size = place.weld.size_mm
    if place.weld.sides != "both":
        yield found("weld-one-sided", where)
    if size is None:
        return
    counted, least = effective_length_mm(place.weld, size), least_length_mm(size)
    if counted < least - 1e-9:
        yield found("weld-too-short", where, length_mm=counted, least_mm=least)
    thinner = place.thinner_mm
    if size > LARGEST_SHARE * thinner * 1.02:
        most = LARGEST_SHARE * thinner
        yield found("weld-too-large", where, throat_mm=size, thickness_mm=thinner, most_mm=most)


def _metals(known: Survey, where: str, weld: Weld) -> Iterator[Finding]:
    bracket = known.bracket
    own = _metal(known, bracket.plate(weld.plate))
    if own is None:
        return
    metals: list[Material] = [own]
    kinds = [own.kind]
    match weld.joins:
        case AtPlate():
            other = _metal(known, bracket.plate(weld.joins.plate))
            metals += [] if other is None else [other]
            kinds += [] if other is None else [other.kind]
        case AtAnchor():
            name = weld.joins.anchor
            kinds += [a.metal for a in bracket.anchors if a.name == name]
        case AtDashBar():
            try:
                bar = material(bracket.dash_bar.material if bracket.dash_bar else "", bracket.materials)
            except UnknownMaterialError:
                bar = None
            metals += [] if bar is None else [bar]
            kinds += [] if bar is None else [bar.kind]
    weldable = {"steel", "stainless"}
    if len(set(kinds)) > 1 and not set(kinds) <= weldable:
        yield found("weld-unlike", where, one=kinds[0], other=kinds[-1])
    if "aluminium" in kinds:
        yield found("weld-aluminium", where)
    if "stainless" in kinds:
        yield found("weld-stainless", where)
    yield from _strong(where, {metal.name: metal for metal in metals}.values())


def _strong(where: str, metals: Iterable[Material]) -> Iterator[Finding]:
    """Tell metals that harden beside a weld, and those stronger than any whose welds are reckoned."""
    for metal in metals:
        strength, most = max(mpa for _, mpa in metal.yield_steps), STRONGEST_MPA.get(metal.kind, 0.0)
        if metal.name in HARDENING:
            yield found("weld-hardening", where, metal=metal.name)
        elif strength > most:
            yield found(
                "weld-too-strong",
                where,
                metal=metal.name,
                yield_mpa=strength,
                most_mpa=most,
                kind=metal.kind,
            )


def _metal(known: Survey, plate: Plate) -> Material | None:
    try:
        return material(plate.material or "", known.bracket.materials)
    except UnknownMaterialError:
        return None


def _doubles(welds: Iterable[Weld]) -> Iterator[Finding]:
    for one, other in combinations(welds, 2):
        if one.plate != other.plate or min(one.length_mm, other.length_mm) < 1e-6:
            continue
        if _alike(one, other):
            yield found("weld-twice", f"weld {one.name}", other=other.name)


def _alike(one: Weld, other: Weld) -> bool:
    a, b = shapely.LineString([one.from_mm, one.to_mm]), shapely.LineString([other.from_mm, other.to_mm])
    return float(shapely.length(shapely.intersection(a.buffer(0.1, cap_style="flat"), b))) > 1.0
