"""What a cutter is given of a plate: closed loops to cut, lines to fold along, marks.

Glossary
--------
CUT    closed loops, the outline first: what is cut through
FOLD   the middle of each bend zone, from edge to edge of the material: where the punch comes down
MARK   crosses in the middle of holes and slots, and words; nothing of it is cut or folded
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from app.wording.figures import plain
from geometry.bend_zones import folded_pattern
from geometry.flat_pattern import chopped, flat_pattern
from geometry.flat_segments import Flat, Line, Loop
from geometry.plate import CutOut, FoldLine, Plate

LineKind = Literal["CUT", "FOLD", "MARK"]
LINE_KINDS: Final[tuple[LineKind, ...]] = ("CUT", "FOLD", "MARK")
MOST_CROSS_MM: Final = 3.0
"""Half of the longest cross."""
_CROSS_SHARE: Final = 0.35
"""Half a cross over the width of its hole: it stays clear of the cut."""
NOT_JUDGED: Final = "This is the shape alone: the file does not say whether the bracket holds."
"""What every cutter's file carries where no machine looks."""
WORDS_MM: Final = 3.5
"""Height of letters, ISO 3098."""
LINE_APART: Final = 1.6
"""From line to line, over the height of letters."""
_LETTER_WIDE: Final = 0.7
"""Width of a letter over its height, with room to spare: each machine has letters of its own."""


@dataclass(frozen=True)
class FoldMark:
    """One fold line: its pieces across the material, and what to do there."""

    name: str
    pieces: tuple[Line, ...]
    words: str


@dataclass(frozen=True)
class Written:
    """Words on the plate; they start at a place, along a direction."""

    words: str
    at_mm: Flat
    angle_deg: float = 0.0

    @property
    def corners_mm(self) -> tuple[Flat, ...]:
        """Return the corners of the room the words take, at most."""
        (x, y), turn = self.at_mm, math.radians(self.angle_deg)
        ux, uy = math.cos(turn), math.sin(turn)
        long = len(self.words) * _LETTER_WIDE * WORDS_MM
        spots = ((a, b) for a in (0.0, long) for b in (-0.3 * WORDS_MM, WORDS_MM))
        return tuple((x + a * ux - b * uy, y + a * uy + b * ux) for a, b in spots)


@dataclass(frozen=True)
class CutLines:
    """Everything a cutter's file says of one plate, in mm."""

    plate: str
    loops: tuple[Loop, ...]
    """Closed; the outline first, then the openings in the plate's order."""
    folds: tuple[FoldMark, ...]
    crosses: tuple[Line, ...]
    """Two lines for each hole or slot."""
    written: tuple[Written, ...]

    @property
    def box_mm(self) -> tuple[float, float, float, float]:
        """Return least x and y and greatest x and y of the outline, exact on its arcs to a hundredth."""
        return _box(chopped(self.loops[0], 720))

    @property
    def drawn_box_mm(self) -> tuple[float, float, float, float]:
        """Return least x and y and greatest x and y of all that is drawn, words and all."""
        low_x, low_y, high_x, high_y = self.box_mm
        words = (corner for written in self.written for corner in written.corners_mm)
        return _box([(low_x, low_y), (high_x, high_y), *words])


def _box(places: Sequence[Flat]) -> tuple[float, float, float, float]:
    xs, ys = [p[0] for p in places], [p[1] for p in places]
    return (min(xs), min(ys), max(xs), max(ys))


def cut_lines(plate: Plate) -> CutLines:
    """Return what a cutter is given of a plate; ShapeError, naming the thing, for one that makes no shape."""
    pattern = flat_pattern(plate)
    folded = folded_pattern(plate, pattern)
    pieces: dict[str, list[Line]] = {fold.name: [] for fold in plate.folds}
    for zone in folded.zones:
        (x, y), (ux, uy) = zone.middle, zone.along
        for low, high in zone.sections:
            ends = [(x + at * ux, y + at * uy) for at in (low, high)]
            pieces[zone.fold.name].append(Line(*ends))
    folds = tuple(FoldMark(f.name, tuple(pieces[f.name]), fold_words(f)) for f in plate.folds)
    loops = (pattern.outline, *pattern.openings.values())
    crosses = tuple(line for opening in plate.openings for line in _cross(opening))
    written = (*_plate_words(plate, loops[0]), *(_beside(fold) for fold in folds if fold.pieces))
    return CutLines(plate.name, loops, folds, crosses, written)


def fold_words(fold: FoldLine) -> str:
    """Return what to do at a fold line, such as `fold foot: 90 deg up, inside radius 6 mm`."""
    turned = f"{fold.angle_deg:g} deg {fold.direction}"
    return plain(f"fold {fold.name}: {turned}, inside radius {fold.inside_radius_mm:g} mm")


def _cross(opening: object) -> tuple[Line, ...]:
    if isinstance(opening, CutOut):
        return ()
    centre = opening.centre_mm  # type: ignore[attr-defined]
    width = opening.diameter_mm if opening.kind == "hole" else opening.width_mm  # type: ignore[attr-defined]
    half = min(MOST_CROSS_MM, _CROSS_SHARE * width)
    x, y = centre
    return (Line((x - half, y), (x + half, y)), Line((x, y - half), (x, y + half)))


def _plate_words(plate: Plate, outline: Loop) -> tuple[Written, ...]:
    """Return the plate's name and sheet, and how it is seen, written below the outline: nothing is cut there.

    A bracket has each of its plates once.
    """
    places = chopped(outline)
    x, y = min(p[0] for p in places), min(p[1] for p in places)
    sheet = f"{plate.thickness_mm:g} mm {plate.material or 'material not stated'}"
    up = "; up is toward you" if plate.folds else ""
    told = (f"{plate.name}, 1 off, {sheet}", f"seen from the front{up}; 1:1 in mm")
    return tuple(
        Written(plain(words), (x, y - (2.0 + LINE_APART * k) * WORDS_MM)) for k, words in enumerate(told)
    )


def _beside(fold: FoldMark) -> Written:
    """Return the fold's words, written on the material along its first piece."""
    line = fold.pieces[0]
    angle = math.degrees(math.atan2(line.end[1] - line.start[1], line.end[0] - line.start[0]))
    start = line.start
    if not -90.0 + 1e-6 < angle <= 90.0 + 1e-6:
        angle, start = angle - math.copysign(180.0, angle), line.end
    along = math.radians(angle)
    ux, uy = math.cos(along), math.sin(along)
    return Written(fold.words, (start[0] + 5.0 * ux - 1.5 * uy, start[1] + 5.0 * uy + 1.5 * ux), angle)
