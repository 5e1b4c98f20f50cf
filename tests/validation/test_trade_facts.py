"""What the trade knows: common practice, no source. Orders, not figures."""

from __future__ import annotations

import pytest

from geometry.bracket import Bracket
from geometry.fixing import Anchor, AtAnchor
from geometry.plate import Placement
from solver.analyse import analyse
from solver.checking import check_all
from solver.results import Results
from tests.brackets import NO_BEARINGS, STIFF_BEARINGS, WORD, bolt, one_piece, solved_once, straps

pytestmark = pytest.mark.qualitative


@pytest.fixture(scope="module")
def one() -> Results:
    return analyse(one_piece(), refine=False)


def test_one_piece_square_to_the_shaft_beats_straps(one: Results) -> None:
    two = analyse(straps("side by side", column=STIFF_BEARINGS), refine=False)
    assert one.friction_share is not None
    assert two.friction_share is not None
    # Both on an immovable bar: what is left once friction is gone.
    assert one.friction_share.slipped_nm_per_deg > 1.5 * two.friction_share.slipped_nm_per_deg
    assert one.friction_share.share < two.friction_share.share
    assert not one.free_motions


def on_anchors(*, along: bool) -> Bracket:
    """One sheet, three bosses, four anchors: square to the shaft, or lying along it beside the casing."""
    bracket = one_piece()
    assert bracket.casing is not None
    bolts = [
        b if b.joins.to == "boss" else bolt(b.name, "plate", AtAnchor(anchor=b.name)) for b in bracket.bolts
    ]
    changes: dict[str, object] = {
        "dash_bar": None,
        "bolts": tuple(bolts),
        "anchors": tuple(Anchor(name=b.name, word=WORD) for b in bolts if b.joins.to == "anchor"),
    }
    if along:
        placement = Placement(origin_mm=(-50, 0, -50), x_axis=(0, 0, 1), y_axis=(0, 1, 0))
        bosses = tuple(
            b.but(at_mm=(-50, b.at_mm[1], b.at_mm[0] - 50), direction=(-1, 0, 0))
            for b in bracket.casing.bosses
        )
        changes["plates"] = tuple(p.but(placement=placement) for p in bracket.plates)
        changes["casing"] = bracket.casing.but(bosses=bosses)
    return bracket.but(**changes)


def test_a_plate_square_to_the_shaft_beats_the_same_plate_along_it() -> None:
    """The same sheet and bolts; along the shaft the couple bends it out of its plane."""
    turns = {}
    for along in (False, True):
        whole = solved_once(on_anchors(along=along), 20.0)
        turns[along] = next(c for c in check_all(whole, 1.0).checks if c.name == "turn").demand
    assert turns[True] > 10.0 * turns[False]


def test_separate_pieces_rack_where_nothing_else_holds_the_column() -> None:
    two = analyse(straps("side by side", column=NO_BEARINGS), refine=False)
    assert any(m.moves_casing and m.driven_by for m in two.free_motions)


def test_straps_in_line_fail_although_slip_is_far_off() -> None:
    """M10 10.9 tightened hard: friction would hold the couple, and yet nothing but friction does."""
    strong = straps(
        "in line",
        column=STIFF_BEARINGS,
        size="M10",
        grade="10.9",
        tightening_nm=65.0,
        hole_mm=11.0,
        couple_nm=12.0,
    )
    results = analyse(strong)
    slip = next(c for c in results.checks if c.name == "slip")
    assert slip.used < 0.6
    assert results.verdict == "fail"
    assert "nothing but friction" in results.reasons[0]
    assert results.holds_to_nm == 0.0
