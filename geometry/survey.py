"""What several findings look at, worked out once: plate shapes, places of bolts, what is in each hole."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.validation import explain_validity

from geometry.bend_zones import BendZone, folded_pattern
from geometry.bolt_tables import BoltSize, UnknownBoltError, bolt_size
from geometry.bracket import Bracket
from geometry.fixing import AtHole, Bolt
from geometry.flat_pattern import chopped, flat_pattern, opening_loop
from geometry.flat_segments import ShapeError
from geometry.fold_map import FoldMap, fold_map_of
from geometry.placing import BoltPlace, place_bolts
from geometry.plate import Plate


@dataclass(frozen=True, eq=False)
class PlateShape:
    """A plate's shape as far as it can be made."""

    plate: Plate
    outline: BaseGeometry | None
    """What the outline encloses; None if it cannot be made or crosses itself."""
    openings: dict[str, BaseGeometry]
    """By name, those that can be made."""
    fold_map: FoldMap | None
    """None if it cannot be folded or placed."""
    faults: tuple[ShapeError, ...]
    crossings: tuple[tuple[str, float, float], ...]
    """(`outline` or the opening's name, x, y) where an edge crosses itself."""

    @property
    def bends(self) -> tuple[BendZone, ...]:
        """Return its bend zones, none if it cannot be folded."""
        return () if self.fold_map is None else self.fold_map.folded.zones

    @property
    def where(self) -> str:
        """Return the plate in words."""
        return f"plate {self.plate.name}"


@dataclass(frozen=True, eq=False)
class Survey:
    """A bracket with what was worked out about it."""

    bracket: Bracket
    shapes: tuple[PlateShape, ...]
    """In the order of bracket.plates."""
    places: tuple[BoltPlace, ...]
    sizes: dict[str, BoltSize]
    """By the name that bolts give; unknown sizes are left out."""
    bolts: dict[str, Bolt]

    @property
    def heads(self) -> tuple[BoltPlace, ...]:
        """Return the head side of every bolt that can be placed."""
        return tuple(place for place in self.places if place.side == "head")

    def bolts_in_holes(self) -> dict[tuple[str, str], list[str]]:
        """Return the names of the bolts through each hole, by (plate, opening)."""
        through: dict[tuple[str, str], list[str]] = {}
        for bolt in self.bracket.bolts:
            ends = [(bolt.plate, bolt.hole)]
            if isinstance(bolt.joins, AtHole):
                ends.append((bolt.joins.plate, bolt.joins.opening))
            for end in ends:
                through.setdefault(end, []).append(bolt.name)
        return through


def survey(bracket: Bracket) -> Survey:
    """Return what the findings look at."""
    sizes: dict[str, BoltSize] = {}
    for name in {bolt.size for bolt in bracket.bolts}:
        try:
            sizes[name] = bolt_size(name)
        except UnknownBoltError:
            continue
    return Survey(
        bracket,
        tuple(plate_shape(plate) for plate in bracket.plates),
        place_bolts(bracket),
        sizes,
        {bolt.name: bolt for bolt in bracket.bolts},
    )


def plate_shape(plate: Plate) -> PlateShape:
    """Return a plate's shape as far as it can be made, and every fault in it: never only the first."""
    faults: list[ShapeError] = []
    crossings: list[tuple[str, float, float]] = []
    outline: BaseGeometry | None = None
    try:
        outline = _sound(flat_pattern(plate.but(openings=(), folds=())).polygon, "outline", crossings)
    except ShapeError as fault:
        faults.append(fault)
    openings: dict[str, BaseGeometry] = {}
    for opening in plate.openings:
        try:
            shape = _sound(Polygon(chopped(opening_loop(opening, plate.name))), opening.name, crossings)
        except ShapeError as fault:
            faults.append(fault)
            continue
        if shape is not None:
            openings[opening.name] = shape
    fold_map: FoldMap | None = None
    if outline is not None and not faults and not crossings:
        try:
            fold_map = fold_map_of(plate)
        except ShapeError as fault:
            faults += _fold_faults(plate) or [fault]
    return PlateShape(plate, outline, openings, fold_map, tuple(faults), tuple(crossings))


def _sound(shape: Polygon, name: str, crossings: list[tuple[str, float, float]]) -> BaseGeometry | None:
    if shape.is_valid:
        return shape
    x, y = _crossing_at(shape)
    crossings.append((name, x, y))
    return None


def _crossing_at(shape: Polygon) -> tuple[float, float]:
    """Return where a shape crosses itself; the library tells it only as `Self-intersection[x y]`."""
    words = explain_validity(shape)
    if "[" in words:
        x, y = words[words.index("[") + 1 : words.index("]")].split()[:2]
        return float(x), float(y)
    x, y = shape.exterior.coords[0][:2]
    return float(x), float(y)


def _fold_faults(plate: Plate) -> list[ShapeError]:
    """Return what is wrong with each fold by itself, so that one does not hide the next."""
    pattern = flat_pattern(plate)
    faults: list[ShapeError] = []
    for fold in plate.folds:
        try:
            folded_pattern(plate.but(folds=(fold,)), pattern)
        except ShapeError as fault:
            faults.append(fault)
    return faults


def normal_angle_deg(frame: Any) -> float:  # noqa: ANN401 - a (3, 3) array
    """Return how far a plate is out of square to the shaft: 0 is square to it, 90 lies along it."""
    across = min(1.0, abs(float(np.asarray(frame)[2, 2])))
    return float(np.degrees(np.arccos(across)))
