"""Whether a changed bracket still has the plates that were solved: then the quick path may answer for it."""

from __future__ import annotations

from collections.abc import Hashable

from geometry.bracket import Bracket
from geometry.placing import BoltPlace, place_bolts
from solver.plate_beds import partner_modulus
from solver.solved import same_joints

_FELT = (
    "bolt", "side", "plate", "plate_index", "hole", "flat_mm", "hole_radius_mm", "thickness_mm",
    "mating_side", "partner", "partner_name", "mating_inner_mm", "mating_outer_mm", "head_inner_mm",
    "head_outer_mm", "bolt_diameter_mm",
)  # fmt: skip
"""What of a bolt's place a condensed plate is made from; where its partner stands is not among it."""
_FELT_IN_SPACE = ("mating_mm", "axis", "frame")


def same_plates(one: Bracket, other: Bracket) -> bool:
    """Return whether both brackets have the same plates, clamped in the same way by the same bolts.

    They may differ in loads, limits, torque, preload, friction, column, in the dash bar and in where the
    casing stands, as long as every bolt keeps its rings.
    """
    if one.plates != other.plates or one.materials != other.materials:
        return False
    if same_mounting(one, other):
        return True
    before, after = place_bolts(one), place_bolts(other)
    return len(before) == len(after) and all(
        felt_by_plate(a) == felt_by_plate(b) and partner_modulus(one, a) == partner_modulus(other, b)
        for a, b in zip(before, after, strict=True)
    )


def felt_by_plate(place: BoltPlace) -> Hashable:
    """Return what of a bolt's place the condensed plate is made from, to be compared with another."""
    flat = tuple(getattr(place, name) for name in _FELT)
    return flat, tuple(tuple(getattr(place, name).ravel().tolist()) for name in _FELT_IN_SPACE)


def same_mounting(one: Bracket, other: Bracket) -> bool:
    """Return whether both brackets are put together alike.

    They may differ in loads, limits, torque, preload and friction: whether anything can be solved does not
    hang on these.
    """
    parts = ("plates", "materials", "casing", "column", "dash_bar", "anchors")
    return all(getattr(one, part) == getattr(other, part) for part in parts) and same_joints(one, other)
