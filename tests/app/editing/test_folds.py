"""Fold lines drawn anyhow and carried to the plate's edges."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from app.editing.folds import add_fold, change_fold, move_fold, remove_fold, turn_fold
from app.editing.refused import EditRefused
from geometry.bend_zones import folded_pattern
from geometry.fixing import OwnMaterial
from geometry.flat_pattern import flat_pattern
from geometry.plate import Corner, CutOut, Hole, Plate
from tests.app.editing.plates import near

SHEET = [(0, 0), (100, 0), (100, 80), (0, 80)]


def sheet(places: list[tuple[float, float]] = SHEET, **changes: object) -> Plate:
    made = Plate(
        name="sheet",
        material="S235",
        thickness_mm=3,
        outline=tuple(Corner(at_mm=at) for at in places),
    )
    return made.but(**changes)


def ends(plate: Plate) -> list[tuple[float, float]]:
    return [plate.folds[-1].from_mm, plate.folds[-1].to_mm]


@given(
    start=st.tuples(st.floats(1, 99), st.floats(1, 79)),
    x=st.floats(-30, 130),
    y=st.sampled_from([-20.0, 100.0]),
)
def test_a_line_drawn_short_or_long_ends_on_the_outline(
    start: tuple[float, float], x: float, y: float
) -> None:
    made = add_fold(sheet(), start, (x, y))
    border = flat_pattern(sheet()).polygon.exterior
    for end in ends(made):
        assert border.distance(shapely.Point(end)) < 1e-6


def test_a_new_fold_takes_the_least_radius_of_its_material() -> None:
    made = add_fold(sheet(), (0, 40), (100, 40))
    assert (made.folds[0].name, made.folds[0].inside_radius_mm) == ("fold 1", 3)
    assert add_fold(sheet(thickness_mm=8), (0, 40), (100, 40)).folds[0].inside_radius_mm == 12
    assert add_fold(sheet(material=None), (0, 40), (100, 40)).folds[0].inside_radius_mm == 3
    assert add_fold(sheet(material="brie"), (0, 40), (100, 40)).folds[0].inside_radius_mm == 3
    own = OwnMaterial(
        name="stiff", kind="steel", yield_mpa=300, tensile_mpa=400, elastic_modulus_mpa=210_000, poisson=0.3,
        density_kg_m3=7850, source="invented for a test", least_inside_radius_mm=9,
    )  # fmt: skip
    assert add_fold(sheet(material="stiff"), (0, 40), (100, 40), own=[own]).folds[0].inside_radius_mm == 9
    assert folded_pattern(made, flat_pattern(made)).zones


def test_a_fold_across_one_arm_stays_on_it() -> None:
    arms = sheet([(0, 0), (100, 0), (100, 80), (70, 80), (70, 20), (30, 20), (30, 80), (0, 80)])
    assert ends(add_fold(arms, (5, 50), (25, 50))) == [(0, 50), (30, 50)]
    assert ends(add_fold(arms, (25, 50), (5, 50))) == [(30, 50), (0, 50)]
    assert ends(add_fold(arms, (5, 50), (95, 50))) == [(0, 50), (100, 50)]


def test_a_fold_runs_on_past_an_opening_but_a_tabs_ends_at_its_relief() -> None:
    cut = CutOut(
        name="cut", corners=tuple(Corner(at_mm=at) for at in ((40, 20), (60, 20), (60, 60), (40, 60)))
    )
    assert ends(add_fold(sheet(openings=(cut,)), (5, 40), (30, 40))) == [(0, 40), (100, 40)]
    u_shape = [(20, 20), (30, 20), (30, 60), (70, 60), (70, 20), (80, 20), (80, 70), (20, 70)]
    tab = CutOut(name="round the tab", corners=tuple(Corner(at_mm=at) for at in u_shape))
    made = add_fold(sheet(openings=(tab,)), (35, 35), (60, 35))
    assert ends(made) == [(30, 35), (70, 35)]
    assert len(folded_pattern(made, flat_pattern(made)).panels) == 2


@given(by=st.floats(-35, 35))
def test_a_fold_moved_there_and_back_is_where_it_was(by: float) -> None:
    start = add_fold(sheet(), (0, 40), (100, 40))
    there = move_fold(start, "fold 1", (7, by))
    assert there.folds[0].from_mm == pytest.approx((0, 40 + by))
    assert near(move_fold(there, "fold 1", (-7, -by)), start)


def test_a_fold_is_turned_by_an_end() -> None:
    start = add_fold(sheet(), (0, 40), (100, 40))
    assert ends(turn_fold(start, "fold 1", "to", (50, 50))) == [(0, 40), (100, 60)]
    assert ends(turn_fold(start, "fold 1", "from", (50, 30))) == [(0, 20), (100, 40)]


def test_a_fold_is_changed_and_removed() -> None:
    start = add_fold(sheet(), (0, 40), (100, 40), 60, "down", 5)
    made = change_fold(
        start, "fold 1", angle_deg=30, direction="up", inside_radius_mm=6, k_factor=0.4, new_name="lip"
    )
    fold = made.folds[0]
    assert (fold.name, fold.angle_deg, fold.direction, fold.inside_radius_mm, fold.k_factor) == (
        "lip", 30, "up", 6, 0.4,
    )  # fmt: skip
    assert change_fold(made, "lip", angle_deg=20).folds[0].k_factor == 0.4
    assert change_fold(made, "lip", k_factor=None).folds[0].k_factor is None
    assert remove_fold(start, "fold 1") == sheet()


def test_an_unsound_outline_leaves_the_line_as_drawn() -> None:
    crossed = sheet([(0, 0), (100, 80), (100, 0), (0, 80)])
    assert ends(add_fold(crossed, (5, 40), (25, 40))) == [(5, 40), (25, 40)]


def test_what_makes_no_sense_is_refused() -> None:
    start = add_fold(sheet(), (0, 40), (100, 40)).but(
        openings=(Hole(name="hole", centre_mm=(9, 9), diameter_mm=5),)
    )
    for refused, words in (
        (lambda: add_fold(sheet(), (0, 90), (100, 90)), "does not cross plate sheet"),
        (lambda: add_fold(sheet(), (3, 3), (3, 3)), "draw it across the plate"),
        (lambda: add_fold(sheet(), (0, 40), (100, 40), 180), "cannot be turned by 180 deg"),
        (lambda: add_fold(sheet(), (0, 40), (100, 40), float("nan")), "cannot be turned by nan"),
        (lambda: add_fold(sheet(), (0, 40), (100, 40), 90, "sideways"), "choose up or down"),  # type: ignore[arg-type]
        (lambda: add_fold(sheet(), (0, 40), (100, 40), 90, "up", -1), "an inside radius of -1 mm"),
        (lambda: move_fold(start, "fold 1", (0, 50)), "does not cross"),
        (lambda: turn_fold(start, "fold 1", "to", (0, 40)), "drag it away"),
        (lambda: change_fold(start, "fold 1", new_name="hole"), "'hole' is taken"),
        (lambda: change_fold(start, "fold 1", k_factor=1.5), "outside the sheet"),
        (lambda: remove_fold(start, "lip"), "no fold 'lip'; it has: fold 1"),
    ):
        with pytest.raises(EditRefused, match=words):
            refused()
