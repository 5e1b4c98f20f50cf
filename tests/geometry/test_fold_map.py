"""The fold map: laws of folding on drawn plates, and legs against DIN 6935."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.bend_allowance import bend_allowance
from geometry.flat_segments import ShapeError
from geometry.fold_map import FoldMap
from geometry.plate import Corner, FoldLine, Placement, Plate

WIDTH_MM, HEIGHT_MM = 80.0, 300.0


def folded_strip(thickness: float, folds: tuple[FoldLine, ...], placement: Placement | None = None) -> Plate:
    places = ((0.0, 0.0), (WIDTH_MM, 0.0), (WIDTH_MM, HEIGHT_MM), (0.0, HEIGHT_MM))
    return Plate(
        name="z",
        material=None,
        thickness_mm=thickness,
        outline=tuple(Corner(at_mm=at) for at in places),
        folds=folds,
        placement=placement or Placement(),
    )


def across(name: str, at: float, slope: float = 0.0, **changes: object) -> FoldLine:
    rise = slope * WIDTH_MM / 2
    line = FoldLine(name=name, from_mm=(0, at - rise), to_mm=(WIDTH_MM, at + rise), inside_radius_mm=3)
    return line.but(**changes)


axis = st.tuples(*[st.floats(-1, 1)] * 3)


@st.composite
def plates(draw: st.DrawFn) -> Plate:
    thickness = draw(st.sampled_from([1.5, 3.0, 6.0]))
    folds = tuple(
        across(
            name,
            at,
            draw(st.floats(-0.3, 0.3)),
            angle_deg=draw(st.floats(1, 100)),
            direction=draw(st.sampled_from(["up", "down"])),
            inside_radius_mm=thickness * draw(st.floats(0.2, 1.5)),
            k_factor=draw(st.one_of(st.none(), st.floats(0.2, 0.5))),
        )
        for name, at in (("low", 100.0), ("high", 200.0))
    )
    x, y = np.array(draw(axis)), np.array(draw(axis))
    if np.linalg.norm(np.cross(x, y)) < 0.05:
        x, y = np.array([1.0, 0, 0]), np.array([0, 0, 1.0])
    placement = Placement(
        origin_mm=draw(axis),
        x_axis=tuple(x.tolist()),
        y_axis=tuple(y.tolist()),
        origin_on=draw(st.sampled_from(["back", "middle", "front"])),
        still_at_mm=draw(st.sampled_from([None, (40.0, 10.0), (40.0, 290.0)])),
    )
    return folded_strip(thickness, folds, placement)


def spread(made: Plate, count: int = 400) -> np.ndarray:
    share = np.random.default_rng(1).random((count, 3))
    return share * np.array([WIDTH_MM, HEIGHT_MM, made.thickness_mm])


@settings(max_examples=60, deadline=None)
@given(plates())
def test_folding_and_unfolding_gives_each_place_back(made: Plate) -> None:
    fold_map, flat = FoldMap(made), spread(made)
    assert np.allclose(fold_map.to_flat(fold_map.to_space(flat)), flat, atol=1e-8)


@settings(max_examples=60, deadline=None)
@given(plates())
def test_panels_move_rigidly(made: Plate) -> None:
    fold_map, flat = FoldMap(made), spread(made)
    space = fold_map.to_space(flat)
    for number in range(3):
        mine = [fold_map.folded.panel_number((x, y)) == number for x, y in flat[:, :2].tolist()]
        before, after = flat[mine], space[mine]
        assert np.allclose(
            np.linalg.norm(after - after[0], axis=1), np.linalg.norm(before - before[0], axis=1), atol=1e-8
        )


@settings(max_examples=40, deadline=None)
@given(plates(), st.floats(5, 75))
def test_lengths_are_kept_on_the_neutral_line(made: Plate, x: float) -> None:
    fold_map = FoldMap(made)
    for zone in fold_map.folded.zones:
        inner = made.thickness_mm if zone.fold.direction == "up" else 0.0
        level = abs(inner - zone.allowance.k_factor * made.thickness_mm)
        # Straight across the bend, from tangent line to tangent line.
        aside, along = np.array(zone.aside), np.array(zone.along)
        middle = np.array(zone.middle) + (x - 40.0) * along
        steps = np.linspace(-0.5, 0.5, 2001) * zone.width_mm
        flat = np.column_stack([middle + steps[:, None] * aside, np.full(len(steps), level)])
        space = fold_map.to_space(flat)
        length = np.linalg.norm(np.diff(space, axis=0), axis=1).sum()
        assert length == pytest.approx(zone.width_mm, rel=1e-6)


@settings(max_examples=40, deadline=None)
@given(plates())
def test_nothing_tears_at_a_tangent_line(made: Plate) -> None:
    fold_map = FoldMap(made)
    for zone in fold_map.folded.zones:
        for side in (-0.5, 0.5):
            place = np.array(zone.middle) + side * zone.width_mm * np.array(zone.aside)
            hair = 1e-7 * np.array(zone.aside)
            pair = np.array([[*(place - hair), 0.0], [*(place + hair), 0.0]])
            assert np.ptp(fold_map.to_space(pair), axis=0).max() < 1e-6


@settings(max_examples=40, deadline=None)
@given(plates(), st.floats(5, 75), st.floats(5, 295))
def test_the_frame_is_the_slope_of_the_map(made: Plate, x: float, y: float) -> None:
    fold_map = FoldMap(made)
    frame = fold_map.frame_at(x, y)
    assert np.allclose(frame.T @ frame, np.eye(3), atol=1e-12)
    assert np.linalg.det(frame) == pytest.approx(1.0)
    low, high = fold_map.to_space(np.array([[x, y, 0.0], [x, y, made.thickness_mm]]))
    assert np.allclose(frame[:, 2], (high - low) / made.thickness_mm, atol=1e-9)
    for column, step in ((0, (1e-6, 0.0)), (1, (0.0, 1e-6))):
        near = fold_map.to_space(np.array([[x, y, 0.0], [x + step[0], y + step[1], 0.0]]))
        slope = near[1] - near[0]
        if fold_map.folded.panel_number((x, y)) is not None:
            assert np.allclose(frame[:, column], slope / 1e-6, atol=1e-3)


@pytest.mark.parametrize("turned", [30.0, 60.0, 90.0])
@pytest.mark.parametrize(("radius", "thickness"), [(3.0, 3.0), (1.5, 2.0), (4.0, 3.0)])
def test_legs_come_out_as_din_6935_says(turned: float, radius: float, thickness: float) -> None:
    # Flat length L = a + b - v (DIN 6935, published), legs measured to where the outer faces meet.
    allowance = bend_allowance(turned, radius, thickness)
    made = folded_strip(thickness, (across("one", 120, angle_deg=turned, inside_radius_mm=radius),))
    fold_map = FoldMap(made.but(placement=Placement(still_at_mm=(40, 10))))
    # Folded up, the back is the outer face.
    ends = fold_map.to_space(np.array([[40.0, 0.0, 0.0], [40.0, HEIGHT_MM, 0.0]]))
    slope = math.tan(math.radians(turned))
    meets_at = ends[1, 1] - ends[1, 2] / slope
    leg_a, leg_b = meets_at, math.dist((meets_at, 0.0), ends[1, 1:])
    assert leg_a + leg_b - allowance.deduction_mm == pytest.approx(HEIGHT_MM, abs=1e-9)


def test_up_goes_to_the_front_and_down_to_the_back() -> None:
    for direction, sign in (("up", 1.0), ("down", -1.0)):
        made = folded_strip(3, (across("one", 100, direction=direction),), Placement(still_at_mm=(40, 10)))
        tip = FoldMap(made).to_space(np.array([[40.0, HEIGHT_MM, 1.5]]))[0]
        assert sign * tip[2] > 150


def test_the_inner_face_has_the_inside_radius() -> None:
    made = folded_strip(3, (across("one", 150, inside_radius_mm=5),), Placement(still_at_mm=(40, 10)))
    fold_map = FoldMap(made)
    zone = fold_map.folded.zones[0]
    steps = np.linspace(-0.5, 0.5, 9) * zone.width_mm + 150
    for level, radius in ((3.0, 5.0), (0.0, 8.0)):
        arc = fold_map.to_space(np.column_stack([np.full(9, 40.0), steps, np.full(9, level)]))
        axis_at = np.array([150 - zone.width_mm / 2, 3.0 + 5.0])
        assert np.allclose(np.hypot(*(arc[:, 1:] - axis_at).T), radius, atol=1e-9)


def test_placement_stands_the_named_face_on_its_origin() -> None:
    for face, level in (("back", 0.0), ("middle", 3.0), ("front", 6.0)):
        placement = Placement(origin_mm=(1, 2, 3), x_axis=(0, 0, 5), y_axis=(0, 7, 1), origin_on=face)
        fold_map = FoldMap(folded_strip(6, (), placement))
        assert np.allclose(fold_map.to_space(np.array([[0, 0, level]])), [[1, 2, 3]])
        # y_axis is made square to x_axis.
        assert np.allclose(fold_map.frame_at(0, 0), [[0, 0, -1], [0, 1, 0], [1, 0, 0]])


def test_the_largest_panel_stays_still() -> None:
    fold_map = FoldMap(folded_strip(3, (across("one", 100),)))
    assert np.allclose(fold_map.to_space(np.array([[40.0, 250.0, 0.0]])), [[40, 250, 0]])


@pytest.mark.parametrize(
    ("code", "placement"),
    [
        ("placement_axes", Placement(x_axis=(1, 0, 0), y_axis=(2, 0, 0))),
        ("placement_axes", Placement(x_axis=(0, 0, 0))),
        ("still_off_panel", Placement(still_at_mm=(40, 100))),
        ("still_off_panel", Placement(still_at_mm=(400, 100))),
    ],
)
def test_impossible_placements_are_named(code: str, placement: Placement) -> None:
    with pytest.raises(ShapeError) as caught:
        FoldMap(folded_strip(3, (across("one", 100),), placement))
    assert caught.value.code == code
    assert "plate z, placement" in str(caught.value)


@pytest.mark.parametrize("taper", [0.001, 0.013, 0.05, 0.2, 0.37, 1.0, 2.9])
@pytest.mark.parametrize("sign", [-1.0, 1.0])
def test_a_side_that_tapers_across_a_fold_stays_in_one_piece(taper: float, sign: float) -> None:
    straight = folded_strip(6.0, (across("f", 150.0, inside_radius_mm=10.0),))
    corners = list(straight.outline)
    corners[1] = Corner(at_mm=(WIDTH_MM + sign * taper, 0.0))
    fold_map = FoldMap(straight.but(outline=tuple(corners)))
    up = np.linspace(100.0, 200.0, 20001)
    side = np.column_stack([WIDTH_MM + sign * taper * (1 - up / HEIGHT_MM), up, np.zeros_like(up)])
    steps = np.linalg.norm(np.diff(fold_map.to_space(side), axis=0), axis=1)
    # The back's fibre stretches by (r + t) / (r + K t) in the bend and keeps its length elsewhere: a
    # place taken for the wrong side of the bend would jump by millimetres.
    assert steps.max() < 2.0 * (up[1] - up[0])
