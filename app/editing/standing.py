"""Where a plate stands: put by its holes, moved, turned, made square to the shaft, made thicker."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from app.editing.hole_fit import fit_holes
from app.editing.hole_partner import HoleAt
from app.editing.names import plate_of
from app.editing.refused import EditRefused
from app.editing.still_panel import LEVELS, as_place, spot_on
from geometry.bracket import Bracket
from geometry.fixing import AtAnchor, AtBoss, AtDashBar, AtHole
from geometry.flat_segments import Floats, ShapeError
from geometry.fold_map import FoldMap, fold_map_of
from geometry.part import Place
from geometry.placing import place_bolts
from geometry.plate import Plate

Partner = AtHole | AtBoss | AtDashBar | AtAnchor
HoleOn = tuple[str, Partner]
"""A hole of the plate, and what it is put on."""
Axis = Literal["X", "Y", "Z"]

_AXES: Final[dict[str, tuple[float, float, float]]] = {"X": (1, 0, 0), "Y": (0, 1, 0), "Z": (0, 0, 1)}
_TOLD_MM: Final = 0.05


@dataclass(frozen=True)
class Standing:
    """A plate put by its holes."""

    bracket: Bracket
    off_mm: float
    """How far the worst hole is out of line with its partner; a gap that a spacer fills is not counted."""
    words: str
    """How each hole stands to its partner."""


def stand_by_holes(
    bracket: Bracket, plate_name: str, first: HoleOn, second: HoleOn, third: HoleOn | None = None
) -> Standing:
    """Return the bracket with a plate placed so that its holes lie on their partners, face on face.

    The first boss, anchor or hole of another plate named is met exactly, its face against the panel; the
    plate is then turned about that bolt until the others lie on theirs as nearly as can be. Of two ways that
    fit alike the one nearer to where the plate stands is taken. EditRefused if the holes do not reach.
    """
    plate = plate_of(bracket, plate_name)
    wanted = [first, second, *([] if third is None else [third])]
    if len({hole for hole, _ in wanted}) < len(wanted):
        raise EditRefused("a hole can be put on one partner only: name different holes")
    holes = [HoleAt(bracket, plate, hole, partner) for hole, partner in wanted]
    fit = fit_holes(_folded(plate), holes)
    placement = plate.placement
    height = LEVELS[placement.origin_on] * plate.thickness_mm
    placed = plate.but(
        placement=placement.but(
            origin_mm=as_place(fit.origin + height * fit.axes[:, 2]),
            x_axis=as_place(fit.axes[:, 0]),
            y_axis=as_place(fit.axes[:, 1]),
        )
    )
    told = []
    for hole, off, gap in zip(holes, fit.off_mm, fit.gap_mm, strict=True):
        words = f"hole {hole.name} lies on {hole.words}"
        if off > _TOLD_MM:
            words = f"hole {hole.name} is {off:.2f} mm out of line with {hole.words}"
        if abs(gap) > _TOLD_MM:
            words += f", {abs(gap):.2f} mm {'off its face' if gap > 0.0 else 'into it'}"
        told.append(words)
    return Standing(bracket.with_plate(placed), max(fit.off_mm), "; ".join(told))


def move_plate(bracket: Bracket, plate_name: str, by_mm: Place) -> Bracket:
    """Return the bracket with a plate shifted in space."""
    plate = plate_of(bracket, plate_name)
    origin = np.asarray(plate.placement.origin_mm) + np.asarray(by_mm, dtype=float)
    return bracket.with_plate(plate.but(placement=plate.placement.but(origin_mm=as_place(origin))))


def turn_plate(
    bracket: Bracket, plate_name: str, about: Axis | Place, degrees: float, at_mm: Place | None = None
) -> Bracket:
    """Return the bracket with a plate turned in space about an axis, right-handed.

    `about` is X, Y, Z or a direction; the axis runs through `at_mm`, or through the middle of the plate's
    largest or still panel. EditRefused for a direction of no length.
    """
    plate = plate_of(bracket, plate_name)
    way = np.asarray(_AXES[about] if isinstance(about, str) else about, dtype=float)
    length = float(np.linalg.norm(way))
    if not length > 0.0:
        raise EditRefused("the axis to turn about has no length: give X, Y, Z or a direction")
    centre = _middle(_folded(plate)) if at_mm is None else np.asarray(at_mm, dtype=float)
    return _turned(bracket, plate, turn_about(way / length, math.radians(degrees)), centre)


def square_to_shaft(bracket: Bracket, plate_name: str) -> Bracket:
    """Return the bracket with a plate turned by the least angle that sets it square to the shaft.

    The panel that is bolted to the casing is squared, about the middle of its bolts; a plate that is not
    bolted to the casing by the panel that stays still, about its middle.
    """
    plate = plate_of(bracket, plate_name)
    fold_map = _folded(plate)
    on_bosses = [p for p in place_bolts(bracket) if p.plate == plate.name and p.partner == "boss"]
    if on_bosses:
        normal = on_bosses[0].frame[:, 2]
        centre = np.mean([p.mating_mm - p.thickness_mm / 2.0 * p.axis for p in on_bosses], axis=0)
    else:
        normal, centre = fold_map.axes[:, 2], _middle(fold_map)
    goal = np.array([0.0, 0.0, math.copysign(1.0, float(normal[2]))])
    axis = np.cross(normal, goal)
    sine, cosine = float(np.linalg.norm(axis)), float(normal @ goal)
    if sine < 1e-12:
        return bracket
    return _turned(bracket, plate, turn_about(axis / sine, math.atan2(sine, cosine)), centre)


def with_thickness(
    bracket: Bracket, plate_name: str, thickness_mm: float, keeps: Literal["back", "middle", "front"] = "back"
) -> Bracket:
    """Return the bracket with a plate of another thickness, the named level of its still panel kept in place.

    EditRefused for a thickness that is not above zero.
    """
    plate = plate_of(bracket, plate_name)
    if not (math.isfinite(thickness_mm) and thickness_mm > 0.0):
        raise EditRefused(f"a plate cannot be {thickness_mm:g} mm thick: give a thickness above zero")
    placement = plate.placement
    shift = (LEVELS[keeps] - LEVELS[placement.origin_on]) * plate.thickness_mm
    origin = np.asarray(placement.origin_mm) + shift * _folded(plate).axes[:, 2]
    placement = placement.but(origin_mm=as_place(origin), origin_on=keeps)
    return bracket.with_plate(plate.but(thickness_mm=thickness_mm, placement=placement))


def turn_about(axis: Floats, angle_rad: float) -> Floats:
    """Return the (3, 3) turn about a unit axis."""
    x, y, z = axis
    across = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    turn: Floats = np.eye(3) + math.sin(angle_rad) * across + (1.0 - math.cos(angle_rad)) * across @ across
    return turn


def _folded(plate: Plate) -> FoldMap:
    try:
        return fold_map_of(plate)
    except ShapeError as fault:
        raise EditRefused(
            f"plate {plate.name} cannot be placed while its shape is impossible: {fault}"
        ) from fault


def _middle(fold_map: FoldMap) -> Floats:
    panel = fold_map.folded.panels[fold_map.still_panel]
    x, y = (panel.centroid.x, panel.centroid.y) if panel.area > 0 else spot_on(panel)
    middle: Floats = fold_map.origin + fold_map.axes @ np.array([x, y, fold_map.plate.thickness_mm / 2.0])
    return middle


def _turned(bracket: Bracket, plate: Plate, turn: Floats, centre: Floats) -> Bracket:
    placement = plate.placement
    placed = placement.but(
        origin_mm=as_place(centre + turn @ (np.asarray(placement.origin_mm) - centre)),
        x_axis=as_place(turn @ np.asarray(placement.x_axis)),
        y_axis=as_place(turn @ np.asarray(placement.y_axis)),
    )
    return bracket.with_plate(plate.but(placement=placed))
