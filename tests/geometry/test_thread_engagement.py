"""Thread engaged in a boss is that of the bolt which the parts list says to buy, worked by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from geometry.bolt_tables import bolt_size
from geometry.bracket_file import read_bracket
from geometry.casing import Boss, BossMetal
from geometry.fixing import AtBoss, Bolt
from geometry.thread_engagement import engaged_mm, to_buy_mm

SAMPLES = Path(__file__).parents[2] / "sample_brackets"


def a_boss(depth_mm: float | None, metal: BossMetal = "cast aluminium") -> Boss:
    """Return a boss with so much thread."""
    return Boss(name="b", at_mm=(0, 0, 0), thread="M10", depth_mm=depth_mm, metal=metal, face_diameter_mm=24)


def a_bolt(size: str, length_mm: float | None = None) -> Bolt:
    """Return a bolt into it."""
    return Bolt(name="1", size=size, plate="p", hole="h", joins=AtBoss(boss="b"), length_mm=length_mm)


@pytest.mark.parametrize(
    ("size", "clamp_mm", "depth_mm", "bought", "engaged"),
    [
        # 20 are usual; 20 deep less a pitch leave 18.5, so 26.5 at most: 25 are sold, and 17 of it engage
        ("M10", 8.0, 20.0, 25.0, 17.0),
        # 20 usual make 28, so 30, but 20.5 of room end it at 28.5: 25 again
        ("M10", 8.0, 22.0, 25.0, 17.0),
        # 16 usual make 23.6, so 25, but 16.75 end it at 24.35: 20
        ("M8", 7.6, 18.0, 20.0, 12.4),
        # 19.6, so 20, which fits: no more than the usual 16 is taken of its 16.4
        ("M8", 3.6, 18.0, 20.0, 16.0),
        # in eighths and quarters: 8 + 15.9 are 23.9, so 1 in; 19.05 less 1.41 of room end it at 25.6
        ("5/16-18", 8.0, 19.05, 25.4, 15.875),
        # 8 is the shortest sold, and it ends before the boss: cut to what the room takes
        ("M8", 9.0, 2.0, None, 0.75),
    ],
)
def test_a_bolt_with_a_blank_length_engages_as_it_is_to_be_bought(
    size: str, clamp_mm: float, depth_mm: float, bought: float | None, engaged: float
) -> None:
    boss, sizes = a_boss(depth_mm), bolt_size(size)
    assert to_buy_mm(boss, sizes, clamp_mm) == (None if bought is None else pytest.approx(bought))
    assert engaged_mm(boss, a_bolt(size), sizes, clamp_mm) == pytest.approx(engaged)


def test_a_length_in_the_file_is_taken_as_it_is() -> None:
    size = bolt_size("M10")
    assert engaged_mm(a_boss(20.0), a_bolt("M10", 26.0), size, 8.0) == pytest.approx(18.0)
    assert engaged_mm(a_boss(20.0), a_bolt("M10", 40.0), size, 8.0) == pytest.approx(20.0)
    assert engaged_mm(a_boss(20.0), a_bolt("M10", 6.0), size, 8.0) == 0.0
    assert engaged_mm(a_boss(None), a_bolt("M10"), size, 8.0) is None


def test_no_sample_is_judged_by_more_thread_than_its_parts_list_buys() -> None:
    from app.paper.bolts_to_buy import bolts_to_buy

    looked_at = 0
    for path in sorted(SAMPLES.glob("*.bracket.json")):
        bracket = read_bracket(path).bracket
        assert bracket is not None
        for name, buy in bolts_to_buy(bracket).items():
            bolt = bracket.bolt(name)
            if not isinstance(bolt.joins, AtBoss) or buy.length_mm is None or bracket.casing is None:
                continue
            judged = engaged_mm(
                bracket.casing.boss(bolt.joins.boss), bolt, bolt_size(bolt.size), buy.clamp_mm
            )
            if judged is not None and bolt.length_mm is None:
                assert judged <= buy.length_mm - buy.clamp_mm + 1e-9
                looked_at += 1
    assert looked_at > 20
