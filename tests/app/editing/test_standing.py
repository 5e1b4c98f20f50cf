"""Plates put by their holes, moved, turned, squared and made thicker."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.editing.refused import EditRefused
from app.editing.standing import move_plate, square_to_shaft, stand_by_holes, turn_plate, with_thickness
from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket
from geometry.findings import findings_of
from geometry.fixing import Anchor, AtAnchor, AtBoss, AtDashBar, AtHole
from geometry.fold_map import FoldMap
from geometry.placing import place_bolts
from geometry.plate import Hole, Placement
from tests.brackets import one_piece, rectangle, straps

MARLPIT = read_bracket(Path(__file__).parents[3] / "sample_brackets/marlpit_one_piece.bracket.json").bracket
assert MARLPIT is not None
TOP, LEFT, RIGHT = (AtBoss(boss=name) for name in ("top", "left", "right"))
BAR = AtDashBar()


def thrown(bracket: Bracket, seed: int) -> Bracket:
    """Return the bracket with its plate somewhere else, turned by less than a quarter turn."""
    rng = np.random.default_rng(seed)
    name = bracket.plates[0].name
    bracket = turn_plate(bracket, name, tuple(rng.normal(size=3).tolist()), float(rng.uniform(-40, 40)))
    return move_plate(bracket, name, tuple(rng.uniform(-200, 200, 3).tolist()))


def places(bracket: Bracket) -> np.ndarray:
    return np.array([[*p.mating_mm, *p.axis] for p in place_bolts(bracket)])


@settings(max_examples=8)
@given(st.integers(0, 1000))
def test_marlpit_is_put_back_by_two_bosses_or_by_boss_and_bar(seed: int) -> None:
    astray = thrown(MARLPIT, seed)
    assert np.abs(places(astray) - places(MARLPIT)).max() > 1.0
    for wanted in (
        [("top", TOP), ("left", LEFT)],
        [("left", LEFT), ("right", RIGHT), ("top", TOP)],
        [("foot 1", BAR), ("top", TOP)],
        [("top", TOP), ("foot 4", BAR), ("foot 1", BAR)],
    ):
        standing = stand_by_holes(astray, "plate", *wanted)
        assert standing.off_mm < 1e-3
        assert places(standing.bracket) == pytest.approx(places(MARLPIT), abs=2e-3), wanted
        assert standing.words.startswith(f"hole {wanted[0][0]} lies on ")


def test_two_bosses_are_met_to_the_last_figure() -> None:
    standing = stand_by_holes(thrown(MARLPIT, 5), "plate", ("top", TOP), ("left", LEFT))
    assert places(standing.bracket) == pytest.approx(places(MARLPIT), abs=1e-6)
    assert findings_of(standing.bracket) == findings_of(MARLPIT)


def test_what_is_left_over_is_told() -> None:
    plate = MARLPIT.plates[0]
    shifted = MARLPIT.with_plate(
        plate.with_opening(Hole(name="left", centre_mm=(-51, -30.5), diameter_mm=11))
    )
    standing = stand_by_holes(shifted, "plate", ("top", TOP), ("left", LEFT))
    apart = abs(math.dist((-51, -30.5), (0, 52)) - math.dist((-50, -30), (0, 52)))
    assert standing.off_mm == pytest.approx(apart, abs=1e-6)
    assert (
        standing.words == f"hole top lies on boss top; hole left is {apart:.2f} mm out of line with boss left"
    )


def test_bosses_at_two_heights_leave_a_gap_that_is_told() -> None:
    assert MARLPIT.casing is not None
    left = MARLPIT.casing.boss("left").but(at_mm=(-50, -30, -7.5))
    bosses = tuple(left if b.name == "left" else b for b in MARLPIT.casing.bosses)
    bracket = MARLPIT.but(casing=MARLPIT.casing.but(bosses=bosses))
    standing = stand_by_holes(thrown(bracket, 2), "plate", ("top", TOP), ("left", LEFT), ("right", RIGHT))
    assert standing.off_mm < 1e-6
    assert "hole left lies on boss left, 7.50 mm off its face" in standing.words
    assert places(standing.bracket)[:3] == pytest.approx(places(MARLPIT)[:3], abs=1e-6)


def test_a_casing_that_is_clocked_takes_its_plate_along() -> None:
    assert MARLPIT.casing is not None
    turned = MARLPIT.but(casing=MARLPIT.casing.but(clocking_deg=30, station_mm=25))
    standing = stand_by_holes(turned, "plate", ("top", TOP), ("right", RIGHT))
    assert standing.off_mm < 1e-6
    boss_places = [p for p in place_bolts(standing.bracket) if p.partner == "boss"]
    assert len(boss_places) == 3
    assert all(abs(p.gap_mm) < 1e-6 and p.offset_mm < 1e-6 and p.tilt_deg < 1e-4 for p in boss_places)


def test_a_strap_across_the_shaft_stands_on_boss_and_anchor() -> None:
    bracket = straps("across")
    name = bracket.plates[0].name
    astray = turn_plate(move_plate(bracket, name, (30, 20, 10)), name, "Z", 25)
    standing = stand_by_holes(astray, name, ("a1", AtAnchor(anchor="a1")), ("c1", AtBoss(boss="c1")))
    assert standing.off_mm < 1e-6
    assert places(standing.bracket) == pytest.approx(places(bracket), abs=1e-6)


def test_a_plate_is_laid_on_another_plate() -> None:
    lower = rectangle(
        "lower",
        (-60, 60),
        (0, 60),
        [Hole(name=n, centre_mm=(x, 30), diameter_mm=9) for n, x in (("a", -40), ("b", 40))],
    )
    strip = rectangle(
        "strip",
        (-60, 60),
        (-15, 15),
        [Hole(name=n, centre_mm=(x, 0), diameter_mm=9) for n, x in (("a", -40), ("b", 40))],
        3.0,
        placement=Placement(origin_mm=(100, 100, 50)),
    )
    bracket = Bracket(plates=(lower, strip))
    ends = [(n, AtHole(plate="lower", opening=n)) for n in "ab"]
    standing = stand_by_holes(bracket, "strip", *ends)
    laid = FoldMap(standing.bracket.plate("strip"))
    assert laid.to_space(np.array([[-40.0, 0, 0], [40, 0, 0]])) == pytest.approx(
        np.array([[-40, 30, 6], [40, 30, 6]]), abs=1e-6
    )


@pytest.mark.parametrize(
    ("wanted", "said"),
    [
        (
            (("top", TOP), ("foot 1", LEFT)),
            "holes top and foot 1 are .* mm apart and boss top and boss left 96.0 mm",
        ),
        (
            (("left", LEFT), ("right", TOP)),
            "holes left and right are 100.0 mm apart and boss left and boss top 96.0 mm",
        ),
        ((("foot 1", BAR), ("foot 2", BAR)), "free to slide along it: name a boss or an anchor too"),
        ((("top", TOP), ("top", LEFT)), "name different holes"),
        ((("lid", TOP), ("left", LEFT)), "no hole lid; it has: top, left"),
        ((("top", AtBoss(boss="x")), ("left", LEFT)), "no boss 'x'; it has: top, left, right"),
        ((("top", AtAnchor(anchor="x")), ("left", LEFT)), "no anchor x; there is: none"),
        ((("top", AtHole(plate="plate", opening="left")), ("left", LEFT)), "hole of its own"),
    ],
)
def test_what_is_impossible_is_refused(wanted: tuple, said: str) -> None:  # type: ignore[type-arg]
    with pytest.raises(EditRefused, match=said):
        stand_by_holes(MARLPIT, "plate", *wanted)


def test_what_is_not_there_is_named() -> None:
    with pytest.raises(EditRefused, match="there is no dash bar"):
        stand_by_holes(MARLPIT.but(dash_bar=None), "plate", ("top", TOP), ("foot 1", BAR))
    with pytest.raises(EditRefused, match="there is no casing"):
        stand_by_holes(MARLPIT.but(casing=None), "plate", ("top", TOP), ("foot 1", BAR))
    with pytest.raises(EditRefused, match="no plate 'lid'"):
        move_plate(MARLPIT, "lid", (0, 0, 1))
    loose = MARLPIT.but(anchors=(Anchor(name="a", word="w"),))
    with pytest.raises(EditRefused, match="anchor a has no place of its own"):
        stand_by_holes(loose, "plate", ("top", AtAnchor(anchor="a")), ("left", LEFT))


def test_moving_and_turning() -> None:
    moved = move_plate(MARLPIT, "plate", (1, 2, 3))
    assert places(moved)[:, :3] == pytest.approx(places(MARLPIT)[:, :3] + [1, 2, 3])
    turned = turn_plate(MARLPIT, "plate", "Z", 90, at_mm=(0, 0, 0))
    assert places(turned)[0, :3] == pytest.approx([-52, 0, 0], abs=1e-9)
    back = turn_plate(turn_plate(MARLPIT, "plate", (1, 1, 0), 33), "plate", (2, 2, 0), -33)
    assert places(back) == pytest.approx(places(MARLPIT), abs=1e-9)
    with pytest.raises(EditRefused, match="has no length"):
        turn_plate(MARLPIT, "plate", (0, 0, 0), 5)


def test_square_to_the_shaft() -> None:
    crooked = turn_plate(MARLPIT, "plate", (1, 0.4, 0), 3.0)
    assert "plate-out-of-square" in {f.code for f in findings_of(crooked)}
    squared = square_to_shaft(crooked, "plate")
    assert abs(FoldMap(squared.plates[0]).axes[2, 2]) == pytest.approx(1.0, abs=1e-12)
    assert "plate-out-of-square" not in {f.code for f in findings_of(squared)}
    holes = np.array([[*MARLPIT.plates[0].opening(n).centre_mm, 3.0] for n in ("top", "left", "right")])
    middles = [FoldMap(b.plates[0]).to_space(holes).mean(axis=0) for b in (squared, crooked)]
    assert middles[0] == pytest.approx(middles[1], abs=1e-9)
    assert square_to_shaft(MARLPIT, "plate") == MARLPIT


@pytest.mark.parametrize("origin_on", ["back", "middle", "front"])
@pytest.mark.parametrize(("keeps", "height"), [("back", 0.0), ("middle", 0.5), ("front", 1.0)])
def test_another_thickness_keeps_the_named_face(origin_on: str, keeps: str, height: float) -> None:
    plate = one_piece(folded=True).plates[0]
    plate = plate.but(
        placement=Placement.model_validate({"x_axis": (1, 2, 0), "y_axis": (0, 1, 1), "origin_on": origin_on})
    )
    bracket = Bracket(plates=(plate,))
    thicker = with_thickness(bracket, "plate", 8.0, keeps).plates[0]  # type: ignore[arg-type]
    here = FoldMap(plate).to_space(np.array([[10.0, 20.0, height * 6.0]]))
    there = FoldMap(thicker).to_space(np.array([[10.0, 20.0, height * 8.0]]))
    assert thicker.thickness_mm == 8.0
    assert there == pytest.approx(here, abs=1e-9)
    with pytest.raises(EditRefused, match="cannot be 0 mm thick"):
        with_thickness(bracket, "plate", 0.0)
