"""Marlpit's plate drawn from nothing, roughly and then typed over, comes to the sample's own verdict."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from app.window.judge import Judge
from geometry.flat_pattern import flat_pattern
from geometry.plate import Plate
from tests.app.window.stories.hands import WindowHand, sample, window_in_hand

SAME_MM = 0.01
HOLDS_TO_NM = 54.9
"""Of the sample itself, as `python3 app check` prints it."""
ROUGH = ((-70, -45), (70, -45), (85, 40), (85, 125), (-85, 125), (-85, 40))
IN_BAR = (-58, -22, 22, 58)


@pytest.fixture(autouse=True)
def _data(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "data"))


@pytest.mark.long
def test_the_plate_drawn_from_nothing_gets_the_verdict_of_the_sample(qtbot: QtBot) -> None:
    wanted = sample("marlpit_one_piece")
    judge = Judge()
    with window_in_hand(qtbot, judge=judge) as hand:
        hand.door.open(wanted.but(plates=(), bolts=()))
        judge.set_hold(True)  # the strokes between are judged by nobody: once is enough
        draw_outline(hand, wanted.plates[0])
        hand.type_field("6", "plates", "plate", "thickness_mm")
        hand.type_field("S275", "plates", "plate", "material")
        fold(hand)
        drill(hand)
        tighten(hand)
        assert_same(hand.plate, wanted.plates[0])
        assert hand.page.title_block.blanks.blanks == ()
        assert hand.stamp == "No verdict"
        judge.set_hold(False)
        results = hand.wait_for_ink()
        assert hand.stamp == "Verdict: pass"
        assert results.holds_to_nm == pytest.approx(HOLDS_TO_NM, rel=0.01)
        assert f"holds to {results.holds_to_nm:.3g}" in hand.page.title_block.standing.words
        steps = hand.door.steps.index()
        for _ in range(steps):
            hand.undo()
        assert hand.bracket == wanted.but(plates=(), bolts=())


def draw_outline(hand: WindowHand, wanted: Plate) -> None:
    """Click the corners roughly, then type each where it belongs, and round four of them."""
    hand.press_words("draw an outline")
    for corner in (*ROUGH, ROUGH[0]):
        hand.click(corner)
    assert len(hand.plate.outline) == 6
    for number, corner in enumerate(wanted.outline):
        hand.click(hand.plate.outline[number].at_mm)
        assert hand.door.pick is not None
        assert (hand.door.pick.kind, hand.door.pick.index) == ("corner", number)
        x, y = corner.at_mm
        hand.type_numbers(f"{abs(x):g}", f"{abs(y):g}")
    hand.sheet_key("R")
    for radius, numbers in (("14", (0, 1)), ("8", (3, 4))):
        hand.sheet_key(radius[0])
        hand.type_in(radius[1:])
        for number in numbers:
            hand.click(wanted.outline[number].at_mm)
    hand.sheet_key(Qt.Key.Key_Escape)


def fold(hand: WindowHand) -> None:
    """Draw the fold line across and type where it is; square, up and radius 10 are what is offered."""
    hand.sheet_key("L")
    hand.drag((-85, 85), (85, 85))
    assert hand.last_step == "fold the plate"
    hand.type_numbers("44", "", "90", "10")


def drill(hand: WindowHand) -> None:
    """Make the hole for the shaft, bolt the bosses where they show, and four to the dash bar."""
    hand.sheet_key("H")
    hand.sheet_key("4")
    hand.type_in("6")
    hand.click((0, 0))
    hand.sheet_key("B")
    for boss in ((0, 52), (-50, -30), (50, -30)):
        hand.click(boss)
    for x in IN_BAR:
        hand.click((x, 112))
    hand.sheet_key(Qt.Key.Key_Escape)
    assert [bolt.hole for bolt in hand.bracket.bolts][:3] == ["top", "left", "right"]
    for x, hole in zip(IN_BAR, hand.plate.openings[-4:], strict=True):
        hand.sheet_key(Qt.Key.Key_Escape)
        hand.click(hole.centre_mm)
        hand.type_numbers("", f"{abs(x)}", "112")


def tighten(hand: WindowHand) -> None:
    """Type grades and tightening torques in the parts list: alike bolts share a row."""
    for bolt, grade, torque in (("1", "8.8", "38 N.m"), ("4", "10.9", "28")):
        hand.type_field(grade, "bolts", bolt, "grade")
        hand.type_field(torque, "bolts", bolt, "tightening_nm")
    assert [(b.size, b.grade, b.tightening_nm) for b in hand.bracket.bolts] == [
        *[("M10", "8.8", 38.0)] * 3,
        *[("M8", "10.9", 28.0)] * 4,
    ]


def assert_same(drawn: Plate, wanted: Plate) -> None:
    assert (drawn.thickness_mm, drawn.material) == (wanted.thickness_mm, wanted.material)
    assert drawn.placement == wanted.placement
    ours, theirs = flat_pattern(drawn).polygon, flat_pattern(wanted).polygon
    assert ours.exterior.hausdorff_distance(theirs.exterior) < SAME_MM
    assert len(ours.interiors) == len(theirs.interiors)
    for ring in theirs.interiors:
        assert min(ring.hausdorff_distance(other) for other in ours.interiors) < SAME_MM
    (fold,), (line,) = drawn.folds, wanted.folds
    assert fold.from_mm == pytest.approx(line.from_mm, abs=SAME_MM)
    assert fold.to_mm == pytest.approx(line.to_mm, abs=SAME_MM)
    assert (fold.angle_deg, fold.direction, fold.inside_radius_mm) == (90.0, "up", 10.0)
