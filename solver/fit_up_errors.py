"""Where the pieces may be off: how far every bolt's place on a plate then stands from where it should.

Glossary
--------
error     one thing that may be off by its tolerance: in one direction (a fold's angle), or in any of two
          square to each other (a hole)
shape     how the bodies of all plates stand when nothing forces them, for an error of its whole tolerance
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from geometry.fit_up import FitUp
from geometry.flat_segments import ShapeError
from geometry.fold_map import FoldMap, fold_map_of
from geometry.placing import BoltPlace
from geometry.plate import FoldLine, Plate
from solver.condensed_plate import CondensedPlate
from solver.rigid import Floats, carry

_SMALL_DEG = 1e-3
"""Of which the whole tolerance is a multiple: errors are small, and so are what they do in proportion."""


@dataclass(frozen=True)
class FitErrors:
    """All errors of a bracket."""

    shapes: Floats
    """(6 bodies of all plates, columns), X, Y, Z about the middle of each mating face."""
    starts: tuple[int, ...]
    """First column of each error."""
    names: tuple[str, ...]
    """Of each error, in words."""

    def sizes(self, values: Floats) -> Floats:
        """Return (..., errors) what each error can do at most, of values (..., columns) linear in them."""
        return np.asarray(np.sqrt(np.add.reduceat(values**2, self.starts, axis=-1)))


def fit_errors(fit: FitUp, plates: Sequence[CondensedPlate]) -> FitErrors:
    """Return every error: folds, mating faces and holes of every plate."""
    size = 6 * sum(plate.body_count for plate in plates)
    columns: list[Floats] = []
    starts, names = [], []
    first = 0
    for plate in plates:
        rows = slice(first, first + 6 * plate.body_count)
        first = rows.stop
        for name, shapes in _of_plate(plate, fit):
            starts.append(len(columns))
            names.append(name)
            for shape in shapes:
                column = np.zeros(size)
                # A weld is laid where the pieces lie: it starts without force.
                column[rows.start : rows.start + len(shape)] = shape
                columns.append(column)
    whole = np.column_stack(columns) if columns else np.zeros((size, 0))
    return FitErrors(whole, tuple(starts), tuple(names))


def _of_plate(plate: CondensedPlate, fit: FitUp) -> Iterator[tuple[str, list[Floats]]]:
    drawn = plate.plate
    for fold in drawn.folds:
        more = _SMALL_DEG if fold.angle_deg + _SMALL_DEG < 180.0 else -_SMALL_DEG
        bent = drawn.with_fold(fold.but(angle_deg=fold.angle_deg + more))
        yield f"fold {fold.name} of {drawn.name}", [_moved(plate, bent) * (fit.fold_deg / _SMALL_DEG)]
        askew = _askew(plate, fold)
        if askew is not None:
            yield f"fold {fold.name} of {drawn.name} out of square", [askew * (fit.square_deg / _SMALL_DEG)]
    warped = _warped(plate)
    if warped:
        yield f"{drawn.name} out of flat", [shape * np.radians(fit.flat_deg) for shape in warped]
    for number, place in enumerate(plate.places):
        off = np.zeros((3, 6 * len(plate.places)))
        off[:, 6 * number : 6 * number + 3] = place.frame.T
        yield f"hole of bolt {place.bolt}", [off[0] * fit.hole_mm, off[1] * fit.hole_mm]


def _askew(plate: CondensedPlate, fold: FoldLine) -> Floats | None:
    """Return the shape with the fold line turned in the flat; None if it can be turned neither way."""
    start, end = np.asarray(fold.from_mm), np.asarray(fold.to_mm)
    middle, half = 0.5 * (start + end), 0.5 * (end - start)
    for angle_deg in (_SMALL_DEG, -_SMALL_DEG):
        turn = np.radians(angle_deg)
        way = np.array([half[0] - turn * half[1], half[1] + turn * half[0]])
        ends = {"from_mm": tuple(middle - way), "to_mm": tuple(middle + way)}
        try:
            return _moved(plate, plate.plate.with_fold(fold.but(**ends)))
        except ShapeError:
            continue
    return None


def _warped(plate: CondensedPlate) -> list[Floats]:
    """Return the shapes with all places that are not at the casing turned by 1 rad about their middle.

    Of a plate with none at the casing, those that are not at another plate. About the two axes in the plane
    of the sheet there; nothing where all places are of one kind.
    """
    toward = "boss" if any(place.partner == "boss" for place in plate.places) else "hole"
    others = [i for i, place in enumerate(plate.places) if place.partner != toward]
    if not others or len(others) == len(plate.places):
        return []
    middle = np.mean([plate.places[i].mating_mm for i in others], axis=0)
    shapes = np.zeros((2, 6 * len(plate.places)))
    for i in others:
        moved = carry(middle, plate.places[i].mating_mm)[:, 3:]
        shapes[:, 6 * i : 6 * i + 6] = (moved @ plate.places[others[0]].frame[:, :2]).T
    return list(shapes)


def _moved(plate: CondensedPlate, changed: Plate) -> Floats:
    """Return how the bodies stand off with the plate made otherwise, its still panel where it is."""
    before, after = fold_map_of(plate.plate), FoldMap(changed)
    shape = [np.concatenate(_shift(place, before, after)) for place in plate.places]
    return np.concatenate(shape) if shape else np.zeros(0)


def _shift(place: BoltPlace, before: FoldMap, after: FoldMap) -> tuple[Floats, Floats]:
    height = place.thickness_mm if place.mating_side == "front" else 0.0
    at = np.array([[*place.flat_mm, height]])
    shift = (after.to_space(at) - before.to_space(at))[0]
    turn = after.frame_at(*place.flat_mm) @ before.frame_at(*place.flat_mm).T
    return shift, 0.5 * np.array([turn[2, 1] - turn[1, 2], turn[0, 2] - turn[2, 0], turn[1, 0] - turn[0, 1]])
