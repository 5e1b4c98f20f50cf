"""Free motions: how many there are, in words, and what drives them (kinematics, closed form).

Counts of two pinned straps: side by side 1, in line along the shaft 2, bolt axes across the shaft 2; with two
shaft bearings 0, 1, 1. Each can be counted by hand as freedoms less independent constraints.
"""

import numpy as np
import pytest

from geometry.bracket import Bracket
from geometry.fixing import AtDashBar, DashBar, RectangularTube
from solver.free_motions import free_motions
from solver.load_cases import load_cases
from solver.results import FreeMotion
from tests.brackets import NO_BEARINGS, STIFF_BEARINGS, WELDED, bolt, linked, one_piece, straps
from tests.validation.reference import agrees

SOURCE = "kinematics (closed form)"


def motions_of(bracket: Bracket, *, stuck: bool = False, out: tuple[str, ...] = ()) -> tuple[FreeMotion, ...]:
    linkage, plates = linked(bracket, out)
    return free_motions(bracket, linkage, plates, load_cases(bracket), stuck=stuck)


@pytest.mark.parametrize(
    ("layout", "held", "count"),
    [
        ("side by side", False, 1),
        ("in line", False, 2),
        ("across", False, 2),
        ("side by side", True, 0),
        ("in line", True, 1),
        ("across", True, 1),
    ],
)
def test_counts_of_two_pinned_straps(layout: str, held: bool, count: int) -> None:
    bracket = straps(layout, column=STIFF_BEARINGS if held else NO_BEARINGS)
    found = motions_of(bracket)
    name = f"free motions of two straps {layout}{', two bearings' if held else ''}"
    agrees(len(found), count, 0.0, source=SOURCE, name=name, scale=1.0)
    assert all(motion.moves_casing for motion in found)


@pytest.mark.qualitative
@pytest.mark.parametrize("layout", ["side by side", "in line", "across"])
def test_friction_holds_them_all(layout: str) -> None:
    assert motions_of(straps(layout), stuck=True) == ()


@pytest.mark.qualitative
def test_one_piece_has_none() -> None:
    assert motions_of(one_piece(column=NO_BEARINGS)) == ()


@pytest.mark.qualitative
def test_side_by_side_racks_and_a_couple_does_not_drive_it() -> None:
    (racking,) = motions_of(straps("side by side"))
    assert "racking" in racking.words
    assert "sideways" in racking.words
    assert "nothing but friction stops it" in racking.words
    # A pure couple does no work on a parallelogram; a pull sideways folds it flat.
    assert not any(name.startswith("couple") and "," not in name for name in racking.driven_by)
    assert {"couple +, pull right", "couple -, pull left"} <= set(racking.driven_by)
    assert "couple +, pull up" not in racking.driven_by


@pytest.mark.qualitative
def test_in_line_straps_are_swung_by_the_couple_although_bearings_hold_the_shaft() -> None:
    (swing,) = motions_of(straps("in line", column=STIFF_BEARINGS))
    assert {"couple +", "couple -"} <= set(swing.driven_by)
    turn = swing.bodies["casing"]
    # About the shaft, and the straps lean after it.
    assert np.linalg.norm(turn[[0, 1, 2, 3, 4]]) < 1e-9 * abs(turn[5])
    assert "turns about the shaft" in swing.words


@pytest.mark.qualitative
def test_across_the_shaft_it_swings_along_the_shaft_and_the_couple_leaves_it_be() -> None:
    (swing,) = motions_of(straps("across", column=STIFF_BEARINGS))
    assert not {"couple +", "couple -"} & set(swing.driven_by)
    assert "couple +, pull out at top" in swing.driven_by
    assert "along the shaft" in swing.words


@pytest.mark.qualitative
def test_the_axis_of_a_turn_is_named() -> None:
    """Bolts across the car let their straps turn about them alone; bolts along the shaft, about it."""
    across = [m.words for m in motions_of(straps("across", column=NO_BEARINGS))]
    assert any("about an axis across the car" in words for words in across), across
    along = [m.words for m in motions_of(straps("in line", column=NO_BEARINGS))]
    assert any("about an axis along the shaft" in words for words in along), along
    assert not any("upright" in words for words in across + along)


@pytest.mark.qualitative
def test_a_swing_about_the_dash_bar_is_named_so() -> None:
    bracket = straps("in line")
    bolts = [b for b in bracket.bolts if b.name.startswith("c")]
    bolts += [bolt(f"a{i}", f"strap {i}", AtDashBar()) for i in (1, 2)]
    bar = DashBar(
        from_mm=(0, 150, -600),
        to_mm=(0, 150, 600),
        section=RectangularTube(width_mm=40, height_mm=40, wall_mm=3),
        ends=(WELDED, WELDED),
    )
    words = [m.words for m in motions_of(bracket.but(bolts=tuple(bolts), dash_bar=bar, anchors=()))]
    assert any("swings" in w and "about" in w for w in words), words


@pytest.mark.qualitative
def test_taking_the_right_bolt_out_of_one_piece_leaves_a_pendulum() -> None:
    bracket = one_piece(column=NO_BEARINGS)
    assert motions_of(bracket, out=("4", "5", "6")) != ()
    assert motions_of(bracket, out=("5", "6")) == ()
