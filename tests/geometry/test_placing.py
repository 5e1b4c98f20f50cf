"""Where bolts stand: worked out by hand for simple brackets, and unchanged when the whole bracket moves."""

from __future__ import annotations

import math

import numpy as np
import pytest

from geometry.bracket import Bracket
from geometry.casing_in_space import boss_in_space
from geometry.partner_face import boss_face
from geometry.placing import BoltPlace, footprint_of, footprints_of, place_bolts
from geometry.survey import survey
from tests.geometry.example_bracket import example_bracket
from tests.geometry.finding_case import Data, both, bracket_with, put


def place_of(bracket: Bracket, bolt: str, side: str = "head") -> BoltPlace:
    return next(p for p in place_bolts(bracket) if p.bolt == bolt and p.side == side)


def test_a_boss_behind_the_plate() -> None:
    place = place_of(example_bracket(), "1")
    assert place.mating_side == "back"
    np.testing.assert_allclose(place.mating_mm, [-40, 0, 0], atol=1e-12)
    np.testing.assert_allclose(place.axis, [0, 0, -1], atol=1e-12)
    np.testing.assert_allclose(place.frame, np.eye(3), atol=1e-12)
    assert (place.gap_mm, place.offset_mm, place.tilt_deg) == pytest.approx((0, 0, 0), abs=1e-9)
    # boss face 20, hole 9, M8 washer 8.4/16/1.6 (ISO 7089, published)
    assert (place.mating_inner_mm, place.mating_outer_mm) == (4.5, 10)
    assert (place.head_inner_mm, place.head_outer_mm) == (4.5, 8)
    assert place.clamp_length_mm == pytest.approx(6 + 1.6)


def test_a_boss_is_met_over_its_whole_face_and_adds_nothing_to_what_is_clamped() -> None:
    """A bolt screws into it: there is no hole of its own to leave out, and no metal it goes through."""
    face = boss_face(example_bracket(), "a")
    assert face is not None
    assert (face.outer_mm, face.inner_mm, face.clamped_mm, face.beyond_mm) == (10.0, 0.0, 0.0, 0.0)


def test_the_dash_bar_in_front_of_the_plate() -> None:
    place = place_of(example_bracket(), "3")
    assert place.mating_side == "front"
    np.testing.assert_allclose(place.partner_mm, [-45, 110, 6], atol=1e-9)
    assert place.station_mm == pytest.approx(555)
    assert place.gap_mm == pytest.approx(0, abs=1e-9)
    assert place.clamp_length_mm == pytest.approx(6 + 1.6 + 3)


def test_the_surface_of_a_round_bar_beside_its_middle() -> None:
    round_bar = both(
        put("dash_bar", "section", to={"kind": "round tube", "outer_mm": 50, "wall_mm": 3}),
        put("dash_bar", "from_mm", 1, to=95),
        put("dash_bar", "to_mm", 1, to=95),
    )
    place = place_of(bracket_with(round_bar), "3")
    assert place.gap_mm == pytest.approx(
        25 - math.sqrt(25**2 - 15**2)
    )  # 15 mm off the middle of a 25 mm radius
    assert not place.misses


def test_clocking_turns_bosses_from_x_toward_y_about_the_shaft() -> None:
    turned = both(put("casing", "clocking_deg", to=90), put("casing", "station_mm", to=7))
    casing = bracket_with(turned).casing
    assert casing is not None
    at, way = boss_in_space(casing, casing.bosses[1])
    np.testing.assert_allclose(at, [0, 40, 7], atol=1e-12)
    np.testing.assert_allclose(way, [0, 0, 1], atol=1e-12)


def test_offset_gap_and_tilt_are_told_apart() -> None:
    lean = math.radians(3)
    moved = both(
        put("casing", "bosses", 0, "at_mm", to=[-40.3, 0.4, -2]),
        put("casing", "bosses", 0, "direction", to=[math.sin(lean), 0, math.cos(lean)]),
    )
    place = place_of(bracket_with(moved), "1")
    assert place.offset_mm == pytest.approx(0.5)
    assert place.gap_mm == pytest.approx(2)
    assert place.tilt_deg == pytest.approx(3)


def test_two_plates_give_a_head_and_a_nut_side() -> None:
    def two(data: Data) -> None:
        data["plates"].append({**data["plates"][0], "name": "upper", "placement": {"origin_mm": [0, 0, 6]}})
        data["bolts"][2]["joins"] = {"to": "hole", "plate": "upper", "opening": "upper left"}

    bracket = bracket_with(two)
    head, nut = place_of(bracket, "3"), place_of(bracket, "3", "nut")
    assert (head.plate, nut.plate) == ("main", "upper")
    assert (head.mating_side, nut.mating_side) == ("front", "back")
    np.testing.assert_allclose(head.mating_mm, nut.mating_mm, atol=1e-9)
    np.testing.assert_allclose(head.axis, -nut.axis, atol=1e-12)
    assert head.clamp_length_mm == nut.clamp_length_mm == pytest.approx(2 * 6 + 2 * 1.6)
    heads = survey(bracket).heads
    assert [place.bolt for place in heads] == [bolt.name for bolt in bracket.bolts]
    assert {place.side for place in heads} == {"head"}


def test_a_hole_on_a_folded_leg_looks_where_the_leg_looks() -> None:
    def folded(data: Data) -> None:
        line = {
            "name": "foot",
            "from_mm": [-70, 80],
            "to_mm": [70, 80],
            "inside_radius_mm": 8,
            "angle_deg": 90,
        }
        data["plates"][0]["folds"] = [line]

    frame = place_of(bracket_with(folded), "3").frame
    # up: the far panel turns toward the front, so its y runs along +Z and its front looks back along -Y
    np.testing.assert_allclose(frame, [[1, 0, 0], [0, 0, -1], [0, 1, 0]], atol=1e-9)


def test_footprints_put_each_ring_on_its_face() -> None:
    places = place_bolts(example_bracket())
    boss, bar = footprint_of(places[0]), footprint_of(places[2])
    assert (boss.front_outer_mm, boss.back_outer_mm) == (8, 10)  # washer in front, boss behind
    assert (bar.front_outer_mm, bar.back_outer_mm) == (8, 8)
    assert [f.name for f in footprints_of(places, "main")] == ["1", "2", "3", "4"]
    assert footprints_of(places, "other") == ()


def test_bolts_that_cannot_be_placed_are_left_out() -> None:
    broken = both(
        put("bolts", 0, "size", to="M9"),
        put("bolts", 1, "hole", to="x"),
        put("bolts", 2, "joins", "to", to="dash bar"),
    )
    assert [p.bolt for p in place_bolts(bracket_with(broken))] == ["3", "4"]
    assert [p.bolt for p in place_bolts(bracket_with(put("dash_bar", to=None)))] == ["1", "2"]


def test_moving_everything_along_the_shaft_changes_no_meeting() -> None:
    along = both(
        put("plates", 0, "placement", to={"origin_mm": [0, 0, 250]}),
        put("casing", "station_mm", to=250),
        put("dash_bar", "from_mm", 2, to=281),
        put("dash_bar", "to_mm", 2, to=281),
    )
    for before, after in zip(place_bolts(example_bracket()), place_bolts(bracket_with(along)), strict=True):
        np.testing.assert_allclose(after.mating_mm - before.mating_mm, [0, 0, 250], atol=1e-9)
        assert after.gap_mm == pytest.approx(before.gap_mm, abs=1e-9)
        assert after.offset_mm == pytest.approx(before.offset_mm, abs=1e-9)


@pytest.mark.parametrize(("width_mm", "height_mm"), [(40, 12), (12, 40), (30, 30)])
def test_a_bolt_goes_through_all_of_a_flat_bar_that_way(width_mm: float, height_mm: float) -> None:
    # bolts run along Z, as the bar's width does; its upper face stays on the plate's front
    def flat(data: Data) -> None:
        data["dash_bar"]["section"] = {"kind": "flat bar", "width_mm": width_mm, "height_mm": height_mm}
        for end in ("from_mm", "to_mm"):
            data["dash_bar"][end][2] = 6 + width_mm / 2

    place = next(p for p in place_bolts(bracket_with(flat)) if p.partner == "dash bar")
    assert place.gap_mm == pytest.approx(0.0)
    assert place.clamp_length_mm == pytest.approx(6 + 1.6 + width_mm)
