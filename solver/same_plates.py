"""Whether a changed bracket still has the plates that were solved: then the quick path may answer for it."""

from __future__ import annotations

from collections.abc import Hashable

from geometry.bracket import Bracket
from geometry.placing import BoltPlace, place_bolts
from geometry.weld_places import WeldBody
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
    if one.plates != other.plates or one.materials != other.materials or one.welds != other.welds:
        return False
    if same_mounting(one, other):
        return True
    if one.welds and (one.dash_bar, one.anchors) != (other.dash_bar, other.anchors):
        return False
    before, after = place_bolts(one), place_bolts(other)
    return len(before) == len(after) and all(
        felt_by_plate(a) == felt_by_plate(b) and partner_modulus(one, a) == partner_modulus(other, b)
        for a, b in zip(before, after, strict=True)
    )


def felt_by_plate(place: BoltPlace) -> Hashable:
    """Return what of a bolt's place the condensed plate is made from, to be compared with another."""
    flat = tuple(getattr(place, name) for name in _FELT)
    return flat, tuple(tuple(getattr(place, name).ravel().tolist()) for name in _FELT_IN_SPACE)


def weld_felt(bracket: Bracket, body: WeldBody) -> Hashable:
    """Return what of a weld's segment the condensed plate is made from, to be compared with another."""
    place = body.segment.place
    weld = place.weld.model_copy(update={"seen_by": None, "metal_tensile_mpa": None})
    other = None if place.partner_index is None else bracket.plates[place.partner_index].thickness_mm
    bar = bracket.dash_bar.material if place.partner == "dash bar" and bracket.dash_bar else None
    anchor = next((a.metal for a in bracket.anchors if a.name == place.partner_name), None)
    return (
        body.on, body.segment.number, weld, place.thickness_mm, place.flat_mm, place.partner_flat_mm,
        place.partner_side, tuple(place.ends_mm.ravel().tolist()), tuple(place.frame.ravel().tolist()),
        other, bar, anchor,
    )  # fmt: skip


def same_mounting(one: Bracket, other: Bracket) -> bool:
    """Return whether both brackets are put together alike.

    They may differ in loads, limits, torque, preload and friction: whether anything can be solved does not
    hang on these.
    """
    parts = ("plates", "welds", "materials", "casing", "column", "dash_bar", "anchors")
    return all(getattr(one, part) == getattr(other, part) for part in parts) and same_joints(one, other)
