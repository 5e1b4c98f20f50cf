"""A page as data: lines, words and pictures in mm from its upper left corner, y down. No Qt.

Glossary
--------
mark      one thing on a page: a stroke, words or a picture
line      the kind of a stroke after ISO 128: thick, thin, dashed, chain (long dash, dot), double chain
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Final, Literal

from app.paper.paper_names import PaperName
from geometry.flat_segments import Flat

LineKind = Literal["thick", "medium", "thin", "hair", "dashed", "chain", "double chain"]
Across = Literal["left", "middle", "right"]
PAPERS_MM: Final[dict[PaperName, tuple[float, float]]] = {
    "A4": (210.0, 297.0),
    "A3": (297.0, 420.0),
    "Letter": (215.9, 279.4),
}
BODY_MM: Final = 3.0
"""Size of letters, top to bottom of a line's letters: about 8.5 points."""
SMALL_MM: Final = 2.5
LEADING: Final = 1.35
ARROW_MM: Final = 2.6

Measure = Callable[[str, float, bool], float]
"""(words, size in mm, bold) to their width in mm."""


@dataclass(frozen=True)
class Stroke:
    """A line through places, or the border of an area."""

    places: tuple[Flat, ...]
    line: LineKind = "thin"
    closed: bool = False
    grey: float | None = None
    """Fill of a closed one: 0 black to 1 white; None for none."""
    bare: bool = False
    """Filled without a border."""
    fill: str = ""
    """`#rrggbb` of a closed one, in place of a grey."""
    pen: str = ""
    """`#rrggbb`; black where empty."""


@dataclass(frozen=True)
class Words:
    """One line of words; `at` is on its base line."""

    words: str
    at: Flat
    size_mm: float = BODY_MM
    across: Across = "left"
    bold: bool = False
    italic: bool = False
    angle_deg: float = 0.0
    """Turned so far to the left about `at`."""


@dataclass(frozen=True)
class Picture:
    """A PNG in a box (x, y, width, height)."""

    png: bytes
    box: tuple[float, float, float, float]


Mark = Stroke | Words | Picture


@dataclass(frozen=True)
class Page:
    """One page."""

    width_mm: float
    height_mm: float
    marks: tuple[Mark, ...]


@dataclass(frozen=True)
class Figure:
    """Marks in a box of their own, upper left at nought."""

    width_mm: float
    height_mm: float
    marks: tuple[Mark, ...]


def paper_mm(name: PaperName, *, landscape: bool = False) -> tuple[float, float]:
    """Return width and height of a paper."""
    width, height = PAPERS_MM[name]
    return (height, width) if landscape else (width, height)


def moved(marks: Iterable[Mark], by: Flat, scale: float = 1.0) -> tuple[Mark, ...]:
    """Return marks scaled about nought and moved; words and pictures keep their size."""

    def to(place: Flat) -> Flat:
        return (place[0] * scale + by[0], place[1] * scale + by[1])

    found: list[Mark] = []
    for mark in marks:
        if isinstance(mark, Stroke):
            found.append(replace(mark, places=tuple(to(p) for p in mark.places)))
        elif isinstance(mark, Words):
            found.append(replace(mark, at=to(mark.at)))
        else:
            x, y = to((mark.box[0], mark.box[1]))
            found.append(replace(mark, box=(x, y, mark.box[2], mark.box[3])))
    return tuple(found)


def line(*places: Flat, kind: LineKind = "thin") -> Stroke:
    """Return an open line through places."""
    return Stroke(places, kind)


def box(x: float, y: float, width: float, height: float, kind: LineKind = "thin", **fill: float) -> Stroke:
    """Return a rectangle."""
    places = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
    return Stroke(places, kind, closed=True, grey=fill.get("grey"))


def circle(centre: Flat, radius: float, kind: LineKind = "thin", grey: float | None = None) -> Stroke:
    """Return a circle as a fine polygon: it lies off by less than a hundredth of a mm."""
    count = max(24, math.ceil(math.pi / math.sqrt(max(2.0 * 0.005 / max(radius, 0.05), 1e-6))))
    turns = [2.0 * math.pi * k / count for k in range(count)]
    places = tuple((centre[0] + radius * math.cos(t), centre[1] + radius * math.sin(t)) for t in turns)
    return Stroke(places, kind, closed=True, grey=grey)


def arrow(tip: Flat, away: Flat, size_mm: float = ARROW_MM) -> Stroke:
    """Return a filled arrowhead at a tip, its line going on toward `away` (ISO 129-1)."""
    length = math.dist(tip, away) or 1.0
    ux, uy = (away[0] - tip[0]) / length, (away[1] - tip[1]) / length
    half = size_mm * math.tan(math.radians(10.0))
    places = (
        tip,
        (tip[0] + size_mm * ux - half * uy, tip[1] + size_mm * uy + half * ux),
        (tip[0] + size_mm * ux + half * uy, tip[1] + size_mm * uy - half * ux),
    )
    return Stroke(places, "hair", closed=True, grey=0.0)


def readable_deg(angle_deg: float) -> float:
    """Return the angle at which words along a line are read from below or the right."""
    while angle_deg > 90.0 + 1e-6 or angle_deg <= -90.0 + 1e-6:
        angle_deg += 180.0 if angle_deg <= 0.0 else -180.0
    return angle_deg


def dimension(a: Flat, b: Flat, words: str, size_mm: float = SMALL_MM) -> tuple[Mark, ...]:
    """Return a dimension line between two places with its words above it, read from below or the right."""
    angle = math.degrees(math.atan2(-(b[1] - a[1]), b[0] - a[0]))
    readable = readable_deg(angle)
    turn = math.radians(readable)
    middle = ((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0)
    at = (middle[0] - 0.8 * math.sin(turn), middle[1] - 0.8 * math.cos(turn))
    return (
        line(a, b),
        arrow(a, b),
        arrow(b, a),
        Words(words, at, size_mm, "middle", angle_deg=readable),
    )
