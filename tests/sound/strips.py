"""A sheet as a strip of panels with folds between: straight, stepped, waisted, rounded, cut at its bends.

The strip runs along y from nought, its middle at x = 0. Holes stand in rows across it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Final

from geometry.bend_allowance import bend_allowance
from tests.sound.draft import Data, Draft
from tests.sound.openings import clear_of, free_openings

SHEETS_MM: Final = (0.8, 1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 14.0)
MATERIALS: Final = (
    *("S235", "S275", "S355", "S235", "S355"),
    *("A36", "4130 normalised", "1.4301", "5083-H111", "5052-H32", "6061-T6"),
)
ANGLES_DEG: Final = (90.0, 90.0, 90.0, 90.0, 45.0, 30.0, 60.0, 120.0, 105.0, 15.0, 135.0)


@dataclass
class Panel:
    """A flat part of a strip: how long, how wide on either side, and its rows of holes."""

    length: float
    half: float
    rows: list[tuple[float, list[float]]] = field(default_factory=list)
    """(distance from its begin, places across)."""


@dataclass(frozen=True)
class Strip:
    """A sheet drawn as a strip."""

    sheet: Data
    rows: tuple[tuple[tuple[str, tuple[float, float]], ...], ...]
    """Of each row, in the order of panels: (name, flat place) of its holes."""
    half_end: float
    """Half the width of its last edge."""
    length: float


def row_across(draft: Draft, count: int) -> list[float]:
    """Return places across a strip for so many holes."""
    least = 2.2 * draft.hole_mm if draft.chance(0.06) else 2.0 * draft.clear_mm + 0.5
    pitch = draft.number(least, least + draft.hole_mm)
    return [round((i - (count - 1) / 2.0) * pitch, 4) for i in range(count)]


def half_of(draft: Draft, across: list[float]) -> float:
    """Return the half width that a row asks for; now and then too narrow by a little."""
    narrow = 0.8 if draft.chance(0.04) else 1.0
    return round(max(abs(x) for x in across) + narrow * draft.clear_mm + draft.number(0.0, 6.0), 1)


def strip(draft: Draft, name: str, panels: list[Panel], thickness: float) -> Strip:
    """Return a sheet of panels with a fold between each two."""
    folds: list[Data] = []
    starts: list[float] = [0.0]
    zones: list[float] = []
    # What a panel with holes needs beside its bends is in its own length.
    for number in range(len(panels) - 1):
        radius = round(
            thickness * float(draft.pick((1.5, 2.0, 2.5) if draft.stout else (0.5, 1.0, 1.0, 1.5, 2.5))), 2
        )
        angle = float(draft.pick(ANGLES_DEG))
        factor = None if draft.chance(0.6) else float(draft.pick((0.33, 0.38, 0.44, 0.5)))
        zone = bend_allowance(angle, radius, thickness, factor).zone_width_mm
        at = starts[-1] + panels[number].length + zone / 2.0
        direction = draft.pick(("up", "down"))
        half = min(panels[number].half, panels[number + 1].half) + draft.pick((0.0, 5.0))
        folds.append(
            {
                "name": f"fold {number + 1}",
                "from_mm": [-half, at],
                "to_mm": [half, at],
                "angle_deg": angle,
                "direction": direction,
                "inside_radius_mm": radius,
                "k_factor": factor,
            }
        )
        draft.tag(f"fold {direction}", "fold of 90 deg" if angle == 90.0 else "fold of another angle")
        zones.append(zone)
        starts.append(starts[-1] + panels[number].length + zone)
    draft.tag({0: "flat", 1: "one fold"}.get(len(folds), "several folds"))
    outline = _outline(draft, panels, starts, zones, thickness)
    openings: list[Data] = []
    rows = []
    for number, (panel, start) in enumerate(zip(panels, starts, strict=True)):
        for along, across in panel.rows:
            row = []
            for place, x in enumerate(across):
                opening = draft.hole(f"p{number} r{len(rows)} h{place}", (x, start + along))
                openings.append(opening)
                row.append((str(opening["name"]), (x, start + along)))
            rows.append(tuple(row))
    openings += _bend_cuts(draft, panels, starts, zones)
    openings += free_openings(draft, openings, panels[0].half, panels[0].length)
    sheet: Data = {
        "name": name,
        "material": draft.pick(MATERIALS),
        "thickness_mm": thickness,
        "outline": outline,
        "openings": openings,
        "folds": folds,
        "placement": {},
        "cut_by": draft.pick(("laser", "plasma", "water jet", "saw", "mill", "shear", "punch", "unknown")),
    }
    if draft.chance(0.1):
        sheet["thickness_tolerance_mm"] = round(0.06 * thickness, 3)
    if thickness < 3.0:
        draft.tag("thin sheet")
    draft.tag(f"sheet {sheet['material']}")
    return Strip(sheet, tuple(rows), panels[-1].half, starts[-1] + panels[-1].length)


def _outline(
    draft: Draft, panels: list[Panel], starts: list[float], zones: list[float], thickness: float
) -> list[Data]:
    """Return the outline: up its right side, round its end, down its left."""
    right: list[tuple[float, float, float]] = []
    corner = 0.0 if draft.chance(0.3) else draft.number(1.0, 0.8 * draft.clear_mm)
    right.append((panels[0].half, 0.0, corner))
    for number, zone in enumerate(zones):
        here, there = panels[number].half, panels[number + 1].half
        relief = draft.number(0.5, 1.0) * thickness
        if abs(here - there) < 0.5:
            panels[number + 1].half = here
            continue
        inside = 0.0 if draft.chance(0.5) else round(min(relief, abs(here - there)) * 0.4, 2)
        draft.tag("stepped width", "sharp inside corner" if inside == 0.0 else "inside radius")
        end = starts[number] + panels[number].length
        if there < here:
            right += [(here, end - relief, 0.0), (there, end - relief, inside)]
        else:
            right += [(here, end + zone + relief, inside), (there, end + zone + relief, 0.0)]
    top = starts[-1] + panels[-1].length
    right.append((panels[-1].half, top, corner))
    corners: list[Data] = [{"at_mm": [x, y], "radius_mm": r} for x, y, r in right]
    left: list[Data] = [{"at_mm": [-x, y], "radius_mm": r} for x, y, r in reversed(right)]
    shape = draft.pick(("plain", "plain", "arc end", "chamfer", "waist", "arc foot"))
    if shape == "arc end":
        draft.tag("arc in the outline")
        corners[-1] |= {"radius_mm": 0.0, "arc_via_mm": [0.0, top + draft.number(1.0, panels[-1].half)]}
        left[0]["radius_mm"] = 0.0
    elif shape == "arc foot":
        draft.tag("arc in the outline")
        corners[0]["radius_mm"] = 0.0
        left[-1] |= {"radius_mm": 0.0, "arc_via_mm": [0.0, -draft.number(1.0, panels[0].half)]}
    elif shape == "chamfer":
        cut = round(0.45 * draft.clear_mm, 1)
        half = panels[-1].half
        corners[-1:] = [
            {"at_mm": [half, top - cut], "radius_mm": 0.0},
            {"at_mm": [half - cut, top], "radius_mm": 0.0},
        ]
        left[0:1] = [{"at_mm": [cut - half, top], "radius_mm": 0.0}, {"at_mm": [-half, top - cut]}]
    elif shape == "waist" and len(panels) == 1:
        draft.tag("arc in the outline", "waisted")
        corners[0]["radius_mm"] = corners[-1]["radius_mm"] = 0.0
        deep = draft.number(0.5, 0.25 * draft.clear_mm + 0.6)
        corners[0]["arc_via_mm"] = [panels[0].half - deep, top / 2.0]
    return corners + left


def _bend_cuts(draft: Draft, panels: list[Panel], starts: list[float], zones: list[float]) -> list[Data]:
    """Now and then a relief or a window that cuts right through a bend."""
    found: list[Data] = []
    for number, zone in enumerate(zones):
        half = min(panels[number].half, panels[number + 1].half)
        if half < 2.0 * draft.clear_mm or not draft.chance(0.15):
            continue
        low = starts[number] + panels[number].length - 1.0
        wide = round(half * draft.number(0.2, 0.5), 1)
        if draft.chance(0.4):
            found.append(
                {
                    "kind": "slot",
                    "name": f"relief {number}",
                    "centre_mm": [0.0, low + 1.0 + zone / 2.0],
                    "length_mm": max(zone + 6.0, wide + 1.0),
                    "width_mm": wide,
                    "angle_deg": 90.0,
                }
            )
        else:
            reach = low + 2.0 + zone
            radius = 0.0 if draft.chance(0.5) else 0.8
            found.append(
                {
                    "kind": "cut-out",
                    "name": f"relief {number}",
                    "corners": [
                        {"at_mm": at, "radius_mm": radius}
                        for at in ([-wide, low], [wide, low], [wide, reach], [-wide, reach])
                    ],
                }
            )
        draft.tag("opening through a bend")
    return found


def panel_for(draft: Draft, rows: list[list[float]], *, bends: int, thickness: float) -> Panel:
    """Return a panel for rows of holes, with room for washers beside its bends."""
    beside = draft.clear_mm + (1.2 * thickness if bends else 0.0)
    places, at = [], beside
    for number, row in enumerate(rows):
        if number:
            at += draft.number(2.0 * draft.clear_mm + 0.5, 3.0 * draft.clear_mm)
        places.append((round(at, 4), row))
    length = round(at + beside + draft.number(0.0, 5.0), 4)
    half = max((half_of(draft, row) for row in rows), default=draft.number(10.0, 25.0))
    return Panel(length, half, places)


def web_for(draft: Draft, half: float, thickness: float) -> Panel:
    """Return a panel without holes: a web, or a narrow flange that is hardly more than its bends."""
    if draft.chance(0.3):
        draft.tag("narrow flange")
        length = round(thickness * draft.number(0.5, 2.5), 2)
    else:
        length = draft.number(6.0, 30.0)
    return Panel(length, max(6.0, round(half * draft.number(0.7, 1.2), 1)))


def disc(draft: Draft, name: str, thickness: float, count: int) -> Strip:
    """Return a round sheet of two arcs, with two rows of holes round its middle."""
    first = row_across(draft, count)
    reach = max(abs(x) for x in first)
    gap = draft.number(2.0 * draft.clear_mm + 0.5, 3.0 * draft.clear_mm)
    radius = round(math.hypot(reach, gap / 2.0) + draft.clear_mm + 2.0, 1)
    rows = []
    openings: list[Data] = []
    for number, y in enumerate((radius - gap / 2.0, radius + gap / 2.0)):
        row = []
        for place, x in enumerate(first):
            opening = draft.hole(f"r{number} h{place}", (x, y))
            openings.append(opening)
            row.append((str(opening["name"]), (x, y)))
        rows.append(tuple(row))
    draft.tag("round plate", "arc in the outline", "flat")
    sheet: Data = {
        "name": name,
        "material": draft.pick(MATERIALS),
        "thickness_mm": thickness,
        "outline": [
            {"at_mm": [radius, radius], "arc_via_mm": [0.0, 2.0 * radius]},
            {"at_mm": [-radius, radius], "arc_via_mm": [0.0, 0.0]},
        ],
        "openings": [*openings, *clear_of(draft, openings, radius, 2.0 * radius)],
        "folds": [],
        "placement": {},
    }
    draft.tag(f"sheet {sheet['material']}")
    return Strip(sheet, tuple(rows), 0.0, 2.0 * radius)
