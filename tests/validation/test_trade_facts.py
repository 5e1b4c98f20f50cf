"""What the trade knows: common practice, no source. Orders, not figures."""

from __future__ import annotations

import pytest

from solver.analyse import analyse
from solver.results import Results
from tests.brackets import NO_BEARINGS, STIFF_BEARINGS, one_piece, straps

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
