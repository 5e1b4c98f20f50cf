"""A plate's flat pattern as marks, 1:1 in mm: lines for a page whose y runs down. No Qt."""

from __future__ import annotations

from dataclasses import dataclass

from app.cutting.cut_lines import CutLines
from app.paper.page import Stroke
from geometry.flat_pattern import chopped
from geometry.flat_segments import Flat
from geometry.plate import CutOut, Plate

CHORDS_PER_CIRCLE = 256
"""So that a chord lies less than a hundredth of a millimetre off its arc."""


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

    outline, *openings = (
        Stroke(tuple(to(place) for place in chopped(loop, CHORDS_PER_CIRCLE)), "thick", closed=True)
        for loop in lines.loops
    )
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
