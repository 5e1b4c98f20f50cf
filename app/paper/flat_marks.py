"""A plate's flat pattern as marks, 1:1 in mm: lines for a page whose y runs down. No Qt."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from app.cutting.cut_lines import CutLines
from app.paper.page import Stroke
from geometry.flat_pattern import CHORDS_PER_CIRCLE
from geometry.flat_segments import Arc, Flat, Line, Loop
from geometry.plate import CutOut, Plate

CHORD_OFF_MM = 0.005


@dataclass(frozen=True)
class FlatMarks:
    """What is drawn of a plate; the upper left of its outline at nought."""

    width_mm: float
    height_mm: float
    outline: Stroke
    openings: tuple[Stroke, ...]
    folds: tuple[tuple[str, Stroke], ...]
    """Fold's name and a piece of its line."""
    crosses: tuple[Stroke, ...]
    """Through the middle of holes and slots, reaching past their rims."""


def flat_marks(plate: Plate, lines: CutLines, past_mm: float = 3.0) -> FlatMarks:
    """Return the marks of a plate; crosses reach so far past a hole's rim."""
    low_x, _, high_x, high_y = lines.box_mm
    low_y = lines.box_mm[1]

    def to(place: Flat) -> Flat:
        return (place[0] - low_x, high_y - place[1])

    outline, *openings = (Stroke(_places(loop, to), "thick", closed=True) for loop in lines.loops)
    folds = tuple(
        (fold.name, Stroke((to(piece.start), to(piece.end)))) for fold in lines.folds for piece in fold.pieces
    )
    crosses = []
    for opening in plate.openings:
        if isinstance(opening, CutOut):
            continue
        x, y = to(opening.centre_mm)
        half = past_mm + (opening.diameter_mm if opening.kind == "hole" else opening.width_mm) / 2.0
        crosses += [Stroke(((x - half, y), (x + half, y))), Stroke(((x, y - half), (x, y + half)))]
    return FlatMarks(high_x - low_x, high_y - low_y, outline, tuple(openings), folds, tuple(crosses))


def _places(loop: Loop, to: object) -> tuple[Flat, ...]:
    return tuple(to(place) for edge in loop for place in _along(edge))  # type: ignore[operator]


def _along(edge: Line | Arc) -> Iterable[Flat]:
    """Return the edge's start and places along it: an arc's chords lie off it by less than a hundredth."""
    if isinstance(edge, Line):
        return (edge.start,)
    step = 2.0 * math.acos(max(-1.0, 1.0 - CHORD_OFF_MM / max(edge.radius_mm, CHORD_OFF_MM)))
    count = max(2, math.ceil(abs(edge.turn_rad) / min(step, 2.0 * math.pi / CHORDS_PER_CIRCLE)))
    turns = (edge.from_rad + edge.turn_rad * k / count for k in range(count))
    (cx, cy), r = edge.centre, edge.radius_mm
    return [(cx + r * math.cos(t), cy + r * math.sin(t)) for t in turns]
