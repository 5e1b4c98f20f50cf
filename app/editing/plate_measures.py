"""Dimensions of a whole plate: its width, its height and its thickness."""

from __future__ import annotations

from app.editing.checked import checked_length
from app.editing.loops import edge_of
from app.editing.measures import Ground, Measure, Put
from app.editing.outline import move_corner
from app.editing.refused import EditRefused
from geometry.flat_pattern import chopped
from geometry.part import FlatPlace
from geometry.plate import Plate


def outline_box(plate: Plate) -> tuple[FlatPlace, FlatPlace]:
    """Return the lower left and upper right corner of the box round a plate's outline, roundings left out."""
    places = chopped(tuple(edge_of(plate.outline, k) for k in range(len(plate.outline))))
    places += [corner.at_mm for corner in plate.outline]
    xs, ys = [x for x, _ in places], [y for _, y in places]
    return (min(xs), min(ys)), (max(xs), max(ys))


def plate_measures(ground: Ground) -> list[Measure]:
    """Return width and height over all, which move the right and the upper corners, and the thickness."""
    (x0, y0), (x1, y1) = outline_box(ground.plate)
    return [
        ground.measure("width", x1 - x0, ((x0, y0), (x1, y0)), _stretched(0, x0, x1)),
        ground.measure("height", y1 - y0, ((x0, y0), (x0, y1)), _stretched(1, y0, y1)),
        ground.measure("thickness", ground.plate.thickness_mm, ((x1, y0), (x1, y0)), _thickness),
    ]


def _thickness(plate: Plate, value: float) -> Plate:
    return plate.but(thickness_mm=checked_length(value, "a thickness"))


def _stretched(axis: int, low: float, high: float) -> Put:
    word = ("width", "height")[axis]

    def put(plate: Plate, value: float) -> Plate:
        by = low + checked_length(value, f"a {word}") - high
        outer = [k for k, corner in enumerate(plate.outline) if high - corner.at_mm[axis] < 1e-6]
        inner = [corner.at_mm[axis] for k, corner in enumerate(plate.outline) if k not in outer]
        if not outer:
            raise EditRefused(
                f"the {word} of plate {plate.name} ends on an arc; change the arc's radius or its"
                " corners instead"
            )
        if inner and high + by < max(inner) - 1e-9:
            raise EditRefused(
                f"plate {plate.name} has corners that need a {word} of {max(inner) - low:g} mm;"
                " move these first"
            )
        for k in outer:
            x, y = plate.outline[k].at_mm
            plate = move_corner(plate, k, (x + by, y) if axis == 0 else (x, y + by))
        (x0, y0), (x1, y1) = outline_box(plate)
        if abs((x1 - x0, y1 - y0)[axis] - value) > 1e-6:
            raise EditRefused(
                f"the {word} of plate {plate.name} then ends on an arc; change the arc's radius or its"
                " corners instead"
            )
        return plate

    return put
