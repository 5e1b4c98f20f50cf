"""What a bracket is made of: mass, cutting, bending, number of parts."""

from __future__ import annotations

import math
from dataclasses import dataclass

from geometry.bracket import Bracket
from geometry.flat_pattern import FlatPattern, flat_pattern
from geometry.flat_segments import ShapeError
from geometry.materials import UnknownMaterialError, material
from geometry.plate import Plate


@dataclass(frozen=True)
class Makings:
    """What it takes to make a bracket, without the dash bar and the casing."""

    mass_kg: float | None
    """Of all plates; None where a material is blank or a plate makes no shape."""
    cut_length_mm: float | None
    """Outlines and openings; None where a plate makes no shape."""
    plates: int
    folds: int
    bolts: int
    spacers: int

    @property
    def parts(self) -> int:
        """Return how many pieces are put together: plates, bolts and spacers."""
        return self.plates + self.bolts + self.spacers


def makings_of(bracket: Bracket) -> Makings:
    """Return what a bracket is made of."""
    patterns = [_pattern(plate) for plate in bracket.plates]
    masses = [_mass_kg(bracket, plate, at) for plate, at in zip(bracket.plates, patterns, strict=True)]
    lengths = [None if pattern is None else pattern.cut_length_mm for pattern in patterns]
    return Makings(
        mass_kg=_total(masses),
        cut_length_mm=_total(lengths),
        plates=len(bracket.plates),
        folds=sum(len(plate.folds) for plate in bracket.plates),
        bolts=len(bracket.bolts),
        spacers=sum(bolt.spacer is not None for bolt in bracket.bolts),
    )


def _pattern(plate: Plate) -> FlatPattern | None:
    try:
        return flat_pattern(plate)
    except ShapeError:
        return None


def _mass_kg(bracket: Bracket, plate: Plate, pattern: FlatPattern | None) -> float | None:
    if plate.material is None or pattern is None:
        return None
    try:
        density = material(plate.material, bracket.materials).density_kg_m3
    except UnknownMaterialError:
        return None
    return pattern.mass_kg(plate.thickness_mm, density)


def _total(values: list[float | None]) -> float | None:
    known = [value for value in values if value is not None]
    return math.fsum(known) if len(known) == len(values) else None
