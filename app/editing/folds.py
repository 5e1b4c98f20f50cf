"""Edits of fold lines: draw, move, turn, change and take away.

A fold line is drawn anyhow and then carried to the plate's edges, so that it crosses the material cleanly.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Literal

from app.editing.checked import checked_place, checked_radius
from app.editing.fold_lines import across_plate
from app.editing.moved_shapes import moved_fold, shift
from app.editing.names import checked_name, names_on, numbered
from app.editing.refused import EditRefused
from geometry.fixing import OwnMaterial
from geometry.materials import UnknownMaterialError, material
from geometry.part import FlatPlace
from geometry.plate import FoldLine, Plate

Direction = Literal["up", "down"]
AsItIs = Literal["as it is"]


def add_fold(
    plate: Plate,
    from_mm: FlatPlace,
    to_mm: FlatPlace,
    angle_deg: float = 90.0,
    direction: Direction = "up",
    inside_radius_mm: float | None = None,
    *,
    own: Iterable[OwnMaterial] = (),
    name: str | None = None,
) -> Plate:
    """Return the plate with a fold line, last, from edge to edge of the material it was drawn across.

    No radius takes the thickness, or the material's least inside radius if that is more; `own` are the
    bracket's own materials. Without a name it becomes `fold 1`. EditRefused if it misses the plate.
    """
    ends = (checked_place(from_mm, "a fold's end"), checked_place(to_mm, "a fold's end"))
    if math.dist(*ends) < 0.01:
        raise EditRefused(
            f"a fold cannot begin and end at ({ends[0][0]:g}, {ends[0][1]:g}); draw it across the plate"
        )
    radius = usual_radius_mm(plate, own) if inside_radius_mm is None else _radius(inside_radius_mm)
    taken = names_on(plate)
    fold = FoldLine(
        name=numbered("fold", taken) if name is None else checked_name(name, taken, "the fold"),
        from_mm=ends[0],
        to_mm=ends[1],
        angle_deg=_angle(angle_deg),
        direction=_direction(direction),
        inside_radius_mm=radius,
    )
    return plate.but(folds=(*plate.folds, across_plate(plate, fold)))


def usual_radius_mm(plate: Plate, own: Iterable[OwnMaterial] = ()) -> float:
    """Return the inside radius a fold gets unless said otherwise: the thickness, or the material's least."""
    least = None
    if plate.material is not None:
        try:
            least = material(plate.material, own).least_inside_radius_mm(plate.thickness_mm)
        except UnknownMaterialError:
            least = None  # a finding tells it
    return max(plate.thickness_mm, least or 0.0)


def move_fold(plate: Plate, name: str, by: FlatPlace) -> Plate:
    """Return the plate with a fold line moved by a step, edge to edge again; EditRefused off the plate."""
    fold = fold_of(plate, name)
    return _put(plate, name, across_plate(plate, moved_fold(fold, shift(by))))


def turn_fold(plate: Plate, name: str, end: Literal["from", "to"], at: FlatPlace) -> Plate:
    """Return the plate with one end of a fold line led to a flat place, again from edge to edge.

    The other end stays on the line. EditRefused if the two ends would meet or the line miss the plate.
    """
    fold = fold_of(plate, name)
    place = checked_place(at, f"an end of fold {name}")
    turned = fold.but(from_mm=place) if end == "from" else fold.but(to_mm=place)
    if math.dist(turned.from_mm, turned.to_mm) < 0.01:
        raise EditRefused(f"both ends of fold {name} cannot be at ({place[0]:g}, {place[1]:g}); drag it away")
    return _put(plate, name, across_plate(plate, turned))


def change_fold(
    plate: Plate,
    name: str,
    *,
    angle_deg: float | None = None,
    direction: Direction | None = None,
    inside_radius_mm: float | None = None,
    k_factor: float | AsItIs | None = "as it is",
    new_name: str | None = None,
) -> Plate:
    """Return the plate with a fold's angle, direction, radius, K or name changed; None keeps one as it is.

    A `k_factor` of None takes DIN 6935 again.
    """
    fold = fold_of(plate, name)
    if new_name is not None:
        fold = fold.but(name=checked_name(new_name, names_on(plate) - {name}, f"fold {name}"))
    if angle_deg is not None:
        fold = fold.but(angle_deg=_angle(angle_deg))
    if direction is not None:
        fold = fold.but(direction=_direction(direction))
    if inside_radius_mm is not None:
        fold = fold.but(inside_radius_mm=_radius(inside_radius_mm))
    if k_factor != "as it is":
        fold = fold.but(k_factor=_k_factor(k_factor))
    return _put(plate, name, fold)


def remove_fold(plate: Plate, name: str) -> Plate:
    """Return the plate without a fold line; EditRefused if there is none of that name."""
    fold_of(plate, name)
    return _put(plate, name, None)


def fold_of(plate: Plate, name: str) -> FoldLine:
    """Return the fold line of that name; EditRefused, naming those there are, if there is none."""
    for fold in plate.folds:
        if fold.name == name:
            return fold
    known = ", ".join(fold.name for fold in plate.folds) or "none"
    raise EditRefused(f"plate {plate.name} has no fold {name!r}; it has: {known}")


def _put(plate: Plate, name: str, fold: FoldLine | None) -> Plate:
    place = next(k for k, there in enumerate(plate.folds) if there.name == name)
    put = () if fold is None else (fold,)
    return plate.but(folds=(*plate.folds[:place], *put, *plate.folds[place + 1 :]))


def _angle(angle_deg: float) -> float:
    if not 0.0 < angle_deg < 180.0:
        raise EditRefused(
            f"a fold cannot be turned by {angle_deg:g} deg; give more than 0 (flat) and less than 180"
        )
    return float(angle_deg)


def _direction(direction: str) -> Direction:
    if direction == "up":
        return "up"
    if direction == "down":
        return "down"
    raise EditRefused(f"a fold cannot go {direction!r}; choose up or down")


def _radius(radius_mm: float) -> float:
    return checked_radius(radius_mm, "an inside radius")


def _k_factor(k: float | str | None) -> float | None:
    if k is None:
        return None
    value = float(k)
    if not 0.0 < value < 1.0:
        raise EditRefused(
            f"a K-factor of {value:g} lies outside the sheet; give 0.3 to 0.5, or leave it blank"
        )
    return value
