"""Handles of what is selected: small rings that can be dragged."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from app.editing.loops import between_straight_edges, edge_of
from app.window.flat.under import inward, loops_of, rounding_middle
from app.window.selection import Pick
from geometry.flat_segments import Flat
from geometry.plate import CutOut, Hole, Plate, Slot

HandleKind = Literal["corner", "radius", "arc", "diameter", "slot end", "fold end"]
DRAWN_PX: Final = 5.0
HIT_PX: Final = 10.0
_RADIUS_OFF_PX: Final = 22.0
"""How far inside a sharp corner the handle of its radius stands."""


@dataclass(frozen=True)
class Handle:
    """One handle."""

    kind: HandleKind
    at_mm: Flat
    pick: Pick
    """What is dragged by it."""
    end: int = 0
    """Of a slot or fold: 0 its start, 1 its end."""


def handles_of(plate: Plate, pick: Pick | None, px_per_mm: float) -> tuple[Handle, ...]:
    """Return the handles of what is selected on a plate."""
    if pick is None:
        return ()
    if pick.kind == "plate":
        return tuple(_corner_handles(plate, None)) if pick.name == plate.name else ()
    if pick.plate != plate.name:
        return ()
    corners = dict(loops_of(plate)).get(pick.loop, ())
    match pick.kind:
        case "corner" if 0 <= pick.index < len(corners):
            return _at_corner(plate, pick, px_per_mm)
        case "edge" if 0 <= pick.index < len(corners):
            edge = edge_of(corners, pick.index)
            middle = edge.at(np.array([0.5]))[0]
            ends = (pick.index, (pick.index + 1) % len(corners))
            picks = [Pick("corner", plate=plate.name, index=k, loop=pick.loop) for k in ends]
            return (
                Handle("arc", (float(middle[0]), float(middle[1])), pick),
                *(Handle("corner", corners[p.index].at_mm, p) for p in picks),
            )
        case "opening":
            return _at_opening(plate, pick)
        case "fold":
            return tuple(
                Handle("fold end", at, pick, end)
                for fold in plate.folds
                if fold.name == pick.name
                for end, at in enumerate((fold.from_mm, fold.to_mm))
            )
        case _:
            return ()


def _at_corner(plate: Plate, pick: Pick, px_per_mm: float) -> tuple[Handle, ...]:
    corners = dict(loops_of(plate))[pick.loop]
    found = [Handle("corner", corners[pick.index].at_mm, pick)]
    way = inward(corners, pick.index)
    if way is not None and between_straight_edges(corners, pick.index):
        at = rounding_middle(corners, pick.index)
        if math.dist(at, corners[pick.index].at_mm) * px_per_mm < _RADIUS_OFF_PX:
            (ux, uy), _ = way
            x, y = corners[pick.index].at_mm
            at = (x + ux * _RADIUS_OFF_PX / px_per_mm, y + uy * _RADIUS_OFF_PX / px_per_mm)
        found.append(Handle("radius", at, pick))
    return tuple(found)


def _at_opening(plate: Plate, pick: Pick) -> tuple[Handle, ...]:
    opening = next((o for o in plate.openings if o.name == pick.name), None)
    if isinstance(opening, Hole):
        x, y = opening.centre_mm
        return (Handle("diameter", (x + opening.diameter_mm / 2.0, y), pick),)
    if isinstance(opening, Slot):
        return tuple(Handle("slot end", at, pick, end) for end, at in enumerate(slot_ends(opening)))
    return tuple(_corner_handles(plate, pick.name)) if isinstance(opening, CutOut) else ()


def slot_ends(slot: Slot) -> tuple[Flat, Flat]:
    """Return the middles of a slot's round ends."""
    (x, y), reach = slot.centre_mm, (slot.length_mm - slot.width_mm) / 2.0
    ux, uy = math.cos(math.radians(slot.angle_deg)), math.sin(math.radians(slot.angle_deg))
    return (x - reach * ux, y - reach * uy), (x + reach * ux, y + reach * uy)


def _corner_handles(plate: Plate, loop: str | None) -> list[Handle]:
    return [
        Handle("corner", corner.at_mm, Pick("corner", plate=plate.name, index=index, loop=loop))
        for index, corner in enumerate(dict(loops_of(plate))[loop])
    ]
