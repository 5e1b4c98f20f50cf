"""Dimensions of what is selected in a flat pattern, and typing over them."""

from __future__ import annotations

import math

from app.editing.corner_measures import corner_measures, edge_measures
from app.editing.measures import Dimension, Ground, Measure
from app.editing.names import plate_of, with_plate_changed
from app.editing.opening_measures import fold_measures, opening_measures
from app.editing.plate_measures import outline_box, plate_measures
from app.editing.refused import EditRefused
from app.editing.selected import Kind, Selected
from app.editing.sheet_places import casing_centre
from geometry.bracket import Bracket
from geometry.plate import Plate

__all__ = ["Dimension", "Kind", "Selected", "dimension", "dimensions", "set_dimension"]


def dimensions(plate: Plate, selected: Selected) -> tuple[Dimension, ...]:
    """Return the dimensions of what is selected of a plate.

    Corner: `x`, `y` from the casing's centre, `before` and `after` along its straight edges, `radius`.
    Edge: `length` and `from centre`, or an arc's `radius`. Opening: its own size, `x`, `y`, `from centre`
    and, such as `edge 3`, its distance to the nearest edges. Fold: its distance to edges along it, `angle`,
    `inside radius`. Plate: `width`, `height`, `thickness`. EditRefused if what is selected is not there.
    """
    return tuple(measure.dimension for measure in _measures(plate, selected, every_edge=False))


def dimension(plate: Plate, selected: Selected, name: str) -> Dimension:
    """Return one dimension by name, also to an edge that is not among the nearest; EditRefused if none."""
    return _measure(plate, selected, name).dimension


def set_dimension(
    bracket: Bracket, plate_name: str, selected: Selected, name: str, value_mm: float
) -> Bracket:
    """Return the bracket with what is selected moved or sized so that a dimension has that value.

    In the dimension's unit. EditRefused for a dimension that is not there and a value that cannot be.
    """
    plate = plate_of(bracket, plate_name)
    if not math.isfinite(value_mm):
        raise EditRefused(f"{name} cannot be {value_mm}; give a figure")
    measure = _measure(plate, selected, name)
    return with_plate_changed(bracket, plate_name, measure.put(plate, float(value_mm)))


def _measure(plate: Plate, selected: Selected, name: str) -> Measure:
    found = _measures(plate, selected, every_edge=True)
    for measure in found:
        if measure.dimension.name == name:
            return measure
    known = ", ".join(measure.dimension.name for measure in found) or "none"
    raise EditRefused(f"what is selected has no dimension {name!r}; it has: {known}")


def _measures(plate: Plate, selected: Selected, *, every_edge: bool) -> list[Measure]:
    low, high = outline_box(plate)
    middle = ((low[0] + high[0]) / 2.0, (low[1] + high[1]) / 2.0)
    ground = Ground(plate, middle, casing_centre(plate))
    index, name = selected.index or 0, selected.name or ""
    match selected.kind:
        case "corner":
            return corner_measures(ground, index, selected.loop)
        case "edge":
            return edge_measures(ground, index, selected.loop)
        case "opening":
            return opening_measures(ground, name, every_edge=every_edge)
        case "fold":
            return fold_measures(ground, name, every_edge=every_edge)
        case _:
            return plate_measures(ground)
