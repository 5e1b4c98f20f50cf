"""All that is drawn of a bracket: what stands round it, bolts, welds, dash bar, plates bare or as solved."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from app.mounted.bar_shapes import bar_shapes
from app.mounted.bolt_shapes import bolt_shapes
from app.mounted.field_shapes import field_shapes
from app.mounted.plate_shapes import plate_shapes
from app.mounted.shapes import Floats, Shapes
from app.mounted.surroundings import surroundings
from app.mounted.weld_shapes import weld_shapes
from app.wording.figures import Units
from geometry.bracket import Bracket
from geometry.placing import BoltPlace
from geometry.plate import Plate
from solver.results import CaseResult, Results


@dataclass(frozen=True)
class FieldLook:
    """How plates are drawn as they were solved."""

    results: Results
    moved: Mapping[str, Floats]
    """By plate: (n, 3) movement of the vertices of its mesh, mm."""
    stress: bool = True
    """Whether as a map of stress, or bare metal."""
    highest_mpa: float | None = None
    """What contour lines are spaced for; None for the plate's own stress."""
    units: Units = "mm"

    def shapes(self, plate: Plate) -> Shapes | None:
        """Return the plate as solved; None if it is not among the results."""
        field = next((field for field in self.results.plates if field.plate == plate.name), None)
        if field is None:
            return None
        return field_shapes(
            field,
            plate,
            self.moved[plate.name],
            stress=self.stress,
            highest_mpa=self.highest_mpa,
            units=self.units,
        )


def bracket_shapes(
    bracket: Bracket, places: tuple[BoltPlace, ...], case: CaseResult | None, look: FieldLook | None
) -> Shapes:
    """Return all there is to draw of a bracket as mounted, its bolts standing at these places.

    The dash bar moves as it does in the load case; without a look every plate is drawn bare.
    """
    shapes = surroundings(bracket, places) + bolt_shapes(bracket, places) + weld_shapes(bracket)
    if bracket.dash_bar is not None:
        shapes += bar_shapes(bracket.dash_bar, case)
    for plate in bracket.plates:
        solved = None if look is None else look.shapes(plate)
        shapes += plate_shapes(plate) if solved is None else solved
    return shapes
