"""Plates put by their holes."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import ArrayLike
from scipy.spatial.transform import Rotation

from app.editing.refused import EditRefused
from app.editing.standing import stand_by_holes
from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket
from geometry.findings import findings_of
from geometry.fixing import Anchor, AtAnchor, AtBoss, AtDashBar, AtHole
from geometry.fold_map import FoldMap
from geometry.placing import place_bolts
from geometry.plate import Hole, Placement
from tests.brackets import rectangle, straps

MARLPIT = read_bracket(Path(__file__).parents[3] / "sample_brackets/marlpit_one_piece.bracket.json").bracket
assert MARLPIT is not None
TOP, LEFT, RIGHT = (AtBoss(boss=name) for name in ("top", "left", "right"))
BAR = AtDashBar()


def thrown(bracket: Bracket, seed: int) -> Bracket:
    """Return the bracket with its plate somewhere else, turned by less than a quarter turn."""
    rng = np.random.default_rng(seed)
    name = bracket.plates[0].name
    about, degrees = rng.normal(size=3), float(rng.uniform(-40, 40))
    return moved(bracket, name, about, degrees, rng.uniform(-200, 200, 3))


def moved(bracket: Bracket, name: str, about: ArrayLike, degrees: float, by_mm: ArrayLike) -> Bracket:
    """Return the bracket with a plate turned about its origin and then shifted."""
    plate = next(plate for plate in bracket.plates if plate.name == name)
    way = np.asarray(about, dtype=float)
    turn = Rotation.from_rotvec(way / np.linalg.norm(way) * degrees, degrees=True)
    stood = plate.placement
    placed = stood.but(
        origin_mm=tuple((np.asarray(stood.origin_mm) + np.asarray(by_mm)).tolist()),
        x_axis=tuple(turn.apply(stood.x_axis).tolist()),
        y_axis=tuple(turn.apply(stood.y_axis).tolist()),
    )
    return bracket.with_plate(plate.but(placement=placed))


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
    astray = moved(bracket, name, (0, 0, 1), 25, (30, 20, 10))
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
        stand_by_holes(MARLPIT, "lid", ("top", TOP), ("left", LEFT))
    loose = MARLPIT.but(anchors=(Anchor(name="a", word="w"),))
    with pytest.raises(EditRefused, match="anchor a has no place of its own"):
        stand_by_holes(loose, "plate", ("top", AtAnchor(anchor="a")), ("left", LEFT))
