"""Which dimensions are drawn: the plate's width and height, and those of what is selected that tell most."""

from __future__ import annotations

from typing import Final

from app.editing.dimensions import Dimension, Selected, dimensions
from app.editing.entry import shown
from app.editing.plate_measures import outline_box
from app.editing.refused import EditRefused
from app.window.flat.dimension_layout import Measure
from app.window.selection import Pick
from geometry.flat_segments import Flat
from geometry.plate import CutOut, Plate, Slot

_LEAST_DRAWN_MM: Final = 1e-6
_BESIDE_SHARE: Final = -0.31
"""Of a fold's length: how far from its middle its dimensions stand."""


def figure(value_mm: float, *, inch: bool) -> str:
    """Return a length as a drawing writes it: without its unit, which the caption gives."""
    if inch:
        return shown(value_mm, "mm", True).removesuffix(" in")
    return f"{round(value_mm, 2) + 0.0:.10g}"


def selected_of(pick: Pick | None, plate: Plate) -> Selected | None:
    """Return what is selected of a plate as the dimensions know it; None for what has none."""
    if pick is None:
        return None
    match pick.kind:
        case "corner" | "edge" if pick.plate == plate.name:
            return Selected(plate.name, pick.kind, index=pick.index, loop=pick.loop)
        case "opening" | "fold" if pick.plate == plate.name:
            return Selected(plate.name, "opening" if pick.kind == "opening" else "fold", name=pick.name)
        case "plate" if pick.name == plate.name:
            return Selected(plate.name, "plate")
        case _:
            return None


def dimensions_of(plate: Plate, selected: Selected | None) -> tuple[Dimension, ...]:
    """Return all dimensions of what is selected; none if it is not there or has no shape."""
    if selected is None:
        return ()
    try:
        return dimensions(plate, selected)
    except (EditRefused, ValueError):
        return ()


def measures_of(
    plate: Plate, selected: Selected | None, found: tuple[Dimension, ...], *, inch: bool
) -> list[Measure]:
    """Return what is drawn of the dimensions of what is selected, and the plate's width and height."""
    drawn = _overall(plate, inch=inch)
    if selected is None or selected.kind == "plate":
        return drawn
    for dimension in found:
        kind = _kind(plate, selected, dimension)
        start, end = _beside_middle(plate, selected, dimension)
        if kind and dimension.unit == "mm" and dimension.value_mm > _LEAST_DRAWN_MM:
            drawn.append(
                Measure(
                    dimension.name,
                    _words(dimension, inch=inch),
                    start,
                    end,
                    kind,
                    dimension.offset_side if kind == "along" else 0,
                )
            )
    return drawn


def _beside_middle(plate: Plate, selected: Selected, dimension: Dimension) -> tuple[Flat, Flat]:
    """Return a dimension's two places; a fold's are set off from its middle, where the centre line runs."""
    ends = (dimension.from_mm, dimension.to_mm)
    fold = next((f for f in plate.folds if f.name == selected.name), None)
    if selected.kind != "fold" or fold is None:
        return ends
    dx = _BESIDE_SHARE * (fold.to_mm[0] - fold.from_mm[0])
    dy = _BESIDE_SHARE * (fold.to_mm[1] - fold.from_mm[1])
    return ((ends[0][0] + dx, ends[0][1] + dy), (ends[1][0] + dx, ends[1][1] + dy))


def _words(dimension: Dimension, *, inch: bool) -> str:
    sign = {"diameter": "⌀ ", "radius": "R "}.get(dimension.name, "")
    return sign + figure(dimension.value_mm, inch=inch)


def _overall(plate: Plate, *, inch: bool) -> list[Measure]:
    (x0, y0), (x1, y1) = outline_box(plate)
    return [
        Measure("plate width", figure(x1 - x0, inch=inch), (x0, y0), (x1, y0), "across", -1, False),
        Measure("plate height", figure(y1 - y0, inch=inch), (x0, y0), (x0, y1), "up", 1, False),
    ]


def _kind(plate: Plate, selected: Selected, dimension: Dimension) -> str:
    """Return how a dimension is drawn; empty for one that is only typed."""
    name = dimension.name
    if name == "x":
        return "across"
    if name == "y":
        return "up"
    if name == "diameter":
        return "size"
    if name == "radius":
        return "radius"
    if selected.kind == "opening":
        return _kind_at_opening(plate, selected, name)
    if selected.kind == "fold":
        return "on" if name.startswith("edge") else ""
    return "on" if name == "from centre" else "along"


def _kind_at_opening(plate: Plate, selected: Selected, name: str) -> str:
    opening = plate.opening(selected.name or "")
    if name.startswith("edge"):
        return "on"
    if name in ("width", "height", "length") and isinstance(opening, CutOut | Slot):
        return "along"
    return ""
