"""What is drawn of a mounted bracket: faces, lines and marks in space, whoever paints them.

Glossary
--------
body    what moves as one: `("plate", NAME)`, `("casing", "")`, `("bolt", NAME)`; FIXED stays where it is
moved   displacement of each point, mm, in the load case shown; None where the body's rigid motion serves
pen     the kind of a line, after ISO 128; its width and dashes are in `look.py`
fill    the kind of a face; its colour is in `look.py`
round   an edge between two faces of one curved surface: drawn where it is the outline against the eye
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

Kind = Literal[
    "plate", "bolt", "weld", "casing", "boss", "dash bar", "anchor", "bearing", "shaft", "wheel", "kept clear"
]
Fill = Literal["plate", "plate back", "low", "near", "over", "metal", "bar", "casing", "ground"]
Pen = Literal["edge", "thin", "adjacent", "chain", "contour", "limit", "hatch", "rest", "ground", "wheel"]
Body = tuple[str, str]

FIXED: Final[Body] = ("", "")
CASING: Final[Body] = ("casing", "")
SHARP_DEG: Final = 20.0
"""Faces that meet at more than this have an edge between them; below they are one curved surface."""
SMOOTH_DEG: Final = 0.05
"""Faces that meet at less than this are one flat surface."""


@dataclass(frozen=True, eq=False)
class Surface:
    """Faces of one thing; normals outward."""

    kind: Kind
    name: str
    body: Body
    points: Floats
    """(n, 3), mm."""
    triangles: Ints
    """(m, 3)."""
    fill: Fill
    moved: Floats | None = None
    """(n, 3), mm."""
    values: Floats | None = None
    """(n,) von Mises stress, MPa."""


@dataclass(frozen=True, eq=False)
class Lines:
    """Straight pieces of one kind of line."""

    kind: Kind
    name: str
    body: Body
    ends: Floats
    """(k, 2, 3), mm."""
    pen: Pen
    moved: Floats | None = None
    """(k, 2, 3), mm."""


@dataclass(frozen=True, eq=False)
class Rounds:
    """Edges that are drawn only where one of their faces looks at the eye and the other away."""

    kind: Kind
    name: str
    body: Body
    ends: Floats
    """(k, 2, 3), mm."""
    normals: Floats
    """(k, 2, 3)."""
    moved: Floats | None = None


@dataclass(frozen=True, eq=False)
class Mark:
    """Words at a place: a bolt's number in a balloon, or the stress on a contour line."""

    style: Literal["balloon", "contour"]
    kind: Kind
    name: str
    words: str
    body: Body
    at_mm: Floats
    """(3,)."""
    moved: Floats | None = None
    """(3,)."""
    along: Floats | None = None
    """(3,) direction of the contour line."""
    must: bool = False
    """Whether it is drawn whatever stands in the way."""


@dataclass(frozen=True, eq=False)
class Shapes:
    """Everything that is drawn of one bracket."""

    surfaces: tuple[Surface, ...] = ()
    lines: tuple[Lines, ...] = ()
    rounds: tuple[Rounds, ...] = ()
    marks: tuple[Mark, ...] = ()

    def __add__(self, other: Shapes) -> Shapes:
        """Return both together."""
        return Shapes(
            self.surfaces + other.surfaces,
            self.lines + other.lines,
            self.rounds + other.rounds,
            self.marks + other.marks,
        )

    def points(self, kinds: Sequence[Kind] | None = None) -> Floats:
        """Return (n, 3) the corners of all faces of those kinds, of all kinds for None."""
        found = [s.points for s in self.surfaces if kinds is None or s.kind in kinds]
        return np.concatenate(found) if found else np.zeros((0, 3))


@dataclass(frozen=True, eq=False)
class Edges:
    """Edges of a skin by their ends' numbers."""

    sharp: Ints
    """(k, 2)."""
    rounds: Ints = field(default_factory=lambda: np.zeros((0, 2), dtype=np.int64))
    """(k, 2)."""
    normals: Floats = field(default_factory=lambda: np.zeros((0, 2, 3)))
    """(k, 2, 3) of the two faces at each round."""


def solid_shapes(surface: Surface, edges: Edges | None = None, pen: Pen = "edge") -> Shapes:
    """Return a solid's faces with the edges of its skin, sharp and round."""
    found = skin_edges(surface.points, surface.triangles) if edges is None else edges
    kind, name, body, at, moved = surface.kind, surface.name, surface.body, surface.points, surface.moved
    lines = Lines(kind, name, body, at[found.sharp], pen, None if moved is None else moved[found.sharp])
    rounds = Rounds(
        kind, name, body, at[found.rounds], found.normals, None if moved is None else moved[found.rounds]
    )
    return Shapes((surface,), (lines,), (rounds,))


def normals_of(points: Floats, triangles: Ints) -> Floats:
    """Return (m, 3) unit normals; nought for a triangle of no area."""
    a, b, c = (points[triangles[:, k]] for k in range(3))
    normals = np.cross(b - a, c - a)
    lengths = np.linalg.norm(normals, axis=1)
    unit: Floats = normals / np.maximum(lengths, 1e-300)[:, None]
    unit[lengths < 1e-12] = 0.0
    return unit


def skin_edges(points: Floats, triangles: Ints) -> Edges:
    """Return the sharp and round edges of a skin; places nearer than a hundredth of a micron are one.

    An edge with one face only counts as sharp.
    """
    normals = normals_of(points, triangles)
    _, first, same = np.unique(np.round(points, 5), axis=0, return_index=True, return_inverse=True)
    welded = same.ravel()[triangles]
    sides = np.sort(np.concatenate([welded[:, [0, 1]], welded[:, [1, 2]], welded[:, [2, 0]]]), axis=1)
    faces = np.tile(np.arange(len(triangles)), 3)
    kept = (sides[:, 0] != sides[:, 1]) & (np.abs(normals[faces]).sum(axis=1) > 0.0)
    sides, faces = sides[kept], faces[kept]
    order = np.lexsort((sides[:, 1], sides[:, 0]))
    sides, faces = sides[order], faces[order]
    starts = np.flatnonzero(np.r_[True, np.any(sides[1:] != sides[:-1], axis=1)]) if len(sides) else order
    counts = np.diff(np.r_[starts, len(sides)])
    pairs = starts[counts == 2]
    both = np.stack([normals[faces[pairs]], normals[faces[pairs + 1]]], axis=1)
    cosine = np.einsum("ki,ki->k", both[:, 0], both[:, 1])
    turned = cosine < np.cos(np.radians(SHARP_DEG))
    bent = ~turned & (cosine < np.cos(np.radians(SMOOTH_DEG)))
    lone = starts[counts == 1]
    sharp = first[sides[np.concatenate([pairs[turned], lone])]]
    return Edges(sharp, first[sides[pairs[bent]]], both[bent])
