"""A flat pattern drawn to ISO 128 with running dimensions after ISO 129-1, to a scale of ISO 5455. No Qt.

Every corner has its distance from the left and from the lower edge, on whichever side of the plate is nearer
to it; holes have letters and theirs stand in a table; folds have numbers.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from typing import Final

import shapely

from app.cutting.cut_lines import CutLines
from app.paper.flat_marks import flat_marks
from app.paper.outline_places import arc_middles, dimensioned_places
from app.paper.page import SMALL_MM, Figure, Mark, Stroke, Words, arrow, circle, line, moved, readable_deg
from app.paper.weld_marks import weld_figure
from app.wording.figures import Units, drawn_length
from geometry.bracket import Bracket
from geometry.flat_pattern import chopped
from geometry.flat_segments import Arc, Flat, Loop
from geometry.plate import Plate

SCALES: Final = (
    (2.0, "2 : 1"),
    (1.0, "1 : 1"),
    (0.5, "1 : 2"),
    (0.2, "1 : 5"),
    (0.1, "1 : 10"),
    (0.05, "1 : 20"),
)
AROUND_MM: Final = 20.0
"""Room for dimensions on each side."""
_RUN_MM: Final = 6.0
"""From the plate to a running dimension's line."""
_APART_MM: Final = 3.1
"""Between the words of a run."""
_LETTER_MM: Final = 0.6 * SMALL_MM
"""Width of a small letter, about."""
_SLANT: Final = 0.35
"""Sine of the angle that a radius's leader keeps off both axes."""
_CROSS_MM: Final = 1.5
"""Half of the cross at the middle of a rounding."""
_LEADER_MM: Final = 6.0


def scale_for(lines: CutLines, width_mm: float, height_mm: float) -> tuple[float, str]:
    """Return the largest scale at which a plate with its dimensions fits a room, and how it is written."""
    low_x, low_y, high_x, high_y = lines.box_mm
    room = (width_mm - 2.0 * AROUND_MM, height_mm - 2.0 * AROUND_MM)
    for scale, words in SCALES:
        if (high_x - low_x) * scale <= room[0] and (high_y - low_y) * scale <= room[1]:
            return scale, words
    return SCALES[-1]


def flat_drawing(
    bracket: Bracket, plate: Plate, lines: CutLines, scale: float, units: Units = "mm"
) -> Figure:
    """Return a plate of a bracket drawn to scale with its dimensions and its welds."""
    low_x, low_y, _, high_y = lines.box_mm
    drawn = flat_marks(plate, lines, past_mm=2.0 / scale)
    width, height = drawn.width_mm * scale, drawn.height_mm * scale

    def to(place: Flat) -> Flat:
        return ((place[0] - low_x) * scale, (high_y - place[1]) * scale)

    marks: list[Mark] = []
    marks += moved((drawn.outline, *drawn.openings), (0.0, 0.0), scale)
    marks += moved((Stroke(s.places, "chain") for s in drawn.crosses), (0.0, 0.0), scale)
    marks += moved((s for _, s in drawn.folds), (0.0, 0.0), scale)
    marks += _hole_letters(plate, to, scale)
    marks += _fold_numbers(plate, lines, to)
    marks += [m for middle in arc_middles(plate, lines) for m in _cross(to(middle))]
    marks += _runs(dimensioned_places(plate, lines), (low_x, low_y), to, (width, height), units)
    marks += _radii(lines, to, units)
    marks += weld_figure(bracket, plate, lines, scale, units)
    figure = moved(marks, (AROUND_MM, AROUND_MM))
    return Figure(width + 2.0 * AROUND_MM, height + 2.0 * AROUND_MM, figure)


def letter_of(number: int) -> str:
    """Return the letter of an opening, counted from 0: A to Z without I and O, then AA."""
    letters = "ABCDEFGHJKLMNPQRSTUVWXYZ"
    more, rest = divmod(number, len(letters))
    return (letters[more - 1] if more else "") + letters[rest]


def _cross(at: Flat) -> list[Mark]:
    x, y = at
    return [
        line((x - _CROSS_MM, y), (x + _CROSS_MM, y), kind="hair"),
        line((x, y - _CROSS_MM), (x, y + _CROSS_MM), kind="hair"),
    ]


def _hole_letters(plate: Plate, to: Callable[[Flat], Flat], scale: float) -> list[Mark]:
    marks: list[Mark] = []
    for number, opening in enumerate(plate.openings):
        if opening.kind == "cut-out":
            places = [to(c.at_mm) for c in opening.corners]
            x = sum(p[0] for p in places) / len(places)
            y = sum(p[1] for p in places) / len(places)
            aside = 0.0
        else:
            x, y = to(opening.centre_mm)
            half = (opening.diameter_mm if opening.kind == "hole" else opening.width_mm) / 2.0 * scale
            aside = half * math.sqrt(0.5) + 0.7
        marks.append(Words(letter_of(number), (x + aside, y - aside), 3.2, bold=True))
    return marks


def _fold_numbers(plate: Plate, lines: CutLines, to: Callable[[Flat], Flat]) -> list[Mark]:
    marks: list[Mark] = []
    numbers = {fold.name: (n, fold) for n, fold in enumerate(plate.folds, start=1)}
    for mark in lines.folds:
        number, fold = numbers[mark.name]
        for piece in mark.pieces[:1]:
            (x0, y0), (x1, y1) = sorted((to(piece.start), to(piece.end)))
            angle = readable_deg(math.degrees(math.atan2(-(y1 - y0), x1 - x0)))
            turn = math.radians(angle)
            words = f"F{number} {fold.angle_deg:g}\u00b0 {fold.direction}"
            # off the middle, where crosses of holes stand, but not across the plate's edge
            half = 0.5 * _LETTER_MM * len(words) + 1.0
            share = min(max(0.3, half / max(math.dist((x0, y0), (x1, y1)), half)), 0.5)
            at = (
                x0 + share * (x1 - x0) - 0.8 * math.sin(turn),
                y0 + share * (y1 - y0) - 0.8 * math.cos(turn),
            )
            marks.append(Words(words, at, SMALL_MM, "middle", angle_deg=angle))
    return marks


def _runs(
    places: Sequence[Flat],
    datum: Flat,
    to: Callable[[Flat], Flat],
    size: tuple[float, float],
    units: Units,
) -> list[Mark]:
    """Return the four running dimensions: below, above, left and right of the plate."""
    width, height = size
    runs: dict[str, dict[float, Flat]] = {"below": {}, "above": {}, "left": {}, "right": {}}
    for place in places:
        x, y = to(place)
        runs["below" if y > height / 2.0 else "above"].setdefault(round(place[0] - datum[0], 2) + 0.0, (x, y))
        runs["left" if x < width / 2.0 else "right"].setdefault(round(place[1] - datum[1], 2) + 0.0, (x, y))
    for side, kept in (("below", "above"), ("left", "right")):
        for value in [v for v in runs[kept] if v in runs[side]]:
            del runs[kept][value]  # said once is enough
    marks: list[Mark] = []
    for side, values in runs.items():
        if values:
            marks += _run(side, values, size, units)
    return marks


def _run(side: str, values: dict[float, Flat], size: tuple[float, float], units: Units) -> list[Mark]:
    """Return one running dimension: a line from the datum with an arrow at each distance."""
    width, height = size
    flat = side in ("below", "above")
    at = {"below": height + _RUN_MM, "above": -_RUN_MM, "left": -_RUN_MM, "right": width + _RUN_MM}[side]
    out = 1.0 if side in ("below", "right") else -1.0
    datum = 0.0 if flat else height
    stations = {value: (place[0] if flat else place[1]) for value, place in values.items()}
    spread = _spread(sorted(stations.values()))
    marks: list[Mark] = []
    ends = [datum, *stations.values()]
    marks.append(_on(flat, (min(ends), at), (max(ends), at)))
    marks.append(circle((datum, at) if flat else (at, datum), 0.8, "thin", 1.0))
    for value, place in values.items():
        along = stations[value]
        from_off = place[1] if flat else place[0]
        marks.append(_on(flat, (along, from_off + 1.0 * out), (along, at + 1.2 * out), kind="hair"))
        aside = spread[along]
        marks.append(_on(flat, (along, at + 1.2 * out), (aside, at + 3.2 * out), kind="hair"))
        if abs(along - datum) > 0.5:
            back = along - math.copysign(1.0, along - datum)
            tip, tail = ((along, at), (back, at)) if flat else ((at, along), (at, back))
            marks.append(arrow(tip, tail, 1.8))
        words_at = at + 3.8 * out
        figure = drawn_length(value, units)
        if flat:
            across = "right" if out > 0 else "left"
            marks.append(
                Words(figure, (aside + SMALL_MM * 0.36, words_at), SMALL_MM, across, angle_deg=90.0)  # type: ignore[arg-type]
            )
        else:
            across = "left" if out > 0 else "right"
            marks.append(Words(figure, (words_at, aside + SMALL_MM * 0.36), SMALL_MM, across))  # type: ignore[arg-type]
    return marks


def _on(flat: bool, a: Flat, b: Flat, kind: str = "thin") -> Stroke:
    """Return a line given as (along, off), lying or upright."""
    places = (a, b) if flat else ((a[1], a[0]), (b[1], b[0]))
    return line(*places, kind=kind)  # type: ignore[arg-type]


def _spread(stations: Sequence[float]) -> dict[float, float]:
    """Return where the words of each station stand: as near as they can, apart enough to be read."""
    groups: list[list[float]] = []
    for station in stations:
        groups.append([station])
        while len(groups) > 1 and _start(groups[-1]) - _end(groups[-2]) < _APART_MM:
            last = groups.pop()
            groups[-1] += last
    found: dict[float, float] = {}
    for group in groups:
        for number, station in enumerate(group):
            found[station] = _start(group) + number * _APART_MM
    return found


def _start(group: Sequence[float]) -> float:
    return sum(group) / len(group) - _APART_MM * (len(group) - 1) / 2.0


def _end(group: Sequence[float]) -> float:
    return _start(group) + _APART_MM * (len(group) - 1)


def _radii(lines: CutLines, to: Callable[[Flat], Flat], units: Units) -> list[Mark]:
    """Return a leader to the first rounding of each radius, with how many there are."""
    marks: list[Mark] = []
    for number, loop in enumerate(lines.loops):
        arcs = [edge for edge in loop if isinstance(edge, Arc) and not edge.is_circle]
        if number and len(loop) == 4 and len(arcs) == 2:
            continue  # a slot: the table has its width
        marks += _loop_radii(arcs, loop, to, units, outside=number == 0)
    return marks


def _aside(arc: Arc) -> float:
    """Return at which share of an arc its leader ends: at its middle, if a leader there runs slantwise.

    One straight down, up or aside would end in the running dimensions.
    """

    def slant(share: float) -> float:
        angle = arc.from_rad + share * arc.turn_rad
        return min(abs(math.cos(angle)), abs(math.sin(angle)))

    return next((s for s in (0.5, 0.35, 0.2) if slant(s) > _SLANT), max((0.5, 0.35, 0.2, 0.05), key=slant))


def _loop_radii(
    arcs: Iterable[Arc], loop: Loop, to: Callable[[Flat], Flat], units: Units, *, outside: bool
) -> list[Mark]:
    body = shapely.Polygon(chopped(loop))
    by_radius: dict[float, list[Arc]] = {}
    for arc in arcs:
        by_radius.setdefault(round(arc.radius_mm, 2), []).append(arc)
    marks: list[Mark] = []
    for radius, alike in by_radius.items():
        arc = alike[0]
        angle = arc.from_rad + _aside(arc) * arc.turn_rad
        way = (math.cos(angle), math.sin(angle))
        middle = (arc.centre[0] + arc.radius_mm * way[0], arc.centre[1] + arc.radius_mm * way[1])
        ahead = shapely.Point(middle[0] + 0.05 * way[0], middle[1] + 0.05 * way[1])
        if body.contains(ahead) == outside:
            way = (-way[0], -way[1])
        x, y = to(middle)
        end = (x + _LEADER_MM * way[0], y - _LEADER_MM * way[1])
        right = way[0] >= 0.0
        shelf = (end[0] + (1.5 if right else -1.5), end[1])
        words = f"R{drawn_length(radius, units)}" + (f" ({len(alike)}x)" if len(alike) > 1 else "")
        marks += [line((x, y), end, shelf), arrow((x, y), end, 1.8)]
        marks.append(
            Words(
                words,
                (shelf[0] + (0.5 if right else -0.5), shelf[1] + 0.9),
                SMALL_MM,
                "left" if right else "right",
            )
        )
    return marks
