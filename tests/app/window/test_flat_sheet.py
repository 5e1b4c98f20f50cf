"""What is drawn on the sheet and where."""

from __future__ import annotations

import itertools
import math

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QImage
from pytestqt.qtbot import QtBot

from app.editing.outline import move_corner
from app.theme import PAPER, SLATE, Theme
from app.window.flat.finding_places import place_on_sheet
from app.window.flat.marks import box_on_screen
from app.window.flat.on_sheet import fold_line, on_sheet
from app.window.flat.paths import bounds_of, loop_path
from app.window.selection import Pick
from geometry.finding_words import found
from geometry.findings import findings_of
from geometry.flat_pattern import flat_pattern
from geometry.flat_segments import Arc
from geometry.plate import Corner
from tests.app.window.flat_hands import Hand, sample

SAMPLES = ("marlpit_one_piece", "tallow_stub", "quayside_side_plate", "gauge_tray", "two_piece_bolted")


def test_paths_follow_arcs_exactly() -> None:
    half = (Arc((0.0, 0.0), 10.0, 0.0, math.pi), Arc((0.0, 0.0), 10.0, math.pi, math.pi))
    assert loop_path(half).boundingRect().width() == pytest.approx(20.0, rel=1e-3)
    assert bounds_of(half) == QRectF(-10.0, -10.0, 20.0, 20.0)
    clockwise = (Arc((0.0, 0.0), 10.0, math.pi / 4, -math.pi / 2),)
    assert bounds_of(clockwise).right() == pytest.approx(10.0)
    assert bounds_of(clockwise).top() == pytest.approx(-10.0 / math.sqrt(2.0))


def test_the_sheet_knows_bosses_bar_casing_and_shaft() -> None:
    sheet = on_sheet(sample("marlpit_one_piece"), "plate")
    assert sheet is not None
    assert {boss.name: boss.at_mm for boss in sheet.bosses} == {
        "top": (0, 52),
        "left": (-50, -30),
        "right": (50, -30),
    }
    assert sheet.bar is not None
    assert sheet.shaft_at == (0, 0)
    assert set(sheet.casing) == {(-64, -56), (64, -56), (64, 64), (-64, 64)}
    assert {ring.bolt for ring in sheet.rings} == set("1234567")
    assert sheet.figures is not None
    assert sheet.figures.mass_kg == pytest.approx(1.10, abs=0.01)
    along = on_sheet(sample("quayside_side_plate"), "side plate")
    assert along is not None
    assert along.shaft_at is None
    assert along.shaft_line is not None


def test_a_fold_line_is_drawn_from_edge_to_edge_of_the_plate_as_it_is_now() -> None:
    bracket = sample("marlpit_one_piece")
    wider = move_corner(move_corner(bracket.plates[0], 2, (90, 50)), 3, (90, 128))
    sheet = on_sheet(bracket.with_plate(wider), "plate")
    assert sheet is not None
    assert fold_line(sheet, wider.folds[0]) == (pytest.approx((-76, 84)), pytest.approx((90, 84)))


def test_in_a_gesture_rings_follow_their_holes_without_being_worked_out_anew() -> None:
    bracket = sample("tallow_stub")
    before = on_sheet(bracket, "plate")
    assert before is not None
    low = bracket.plates[0].opening("low").but(centre_mm=(5, -35))
    after = on_sheet(bracket.with_plate(bracket.plates[0].with_opening(low)), "plate", before)
    whole = on_sheet(bracket.with_plate(bracket.plates[0].with_opening(low)), "plate")
    assert after is not None
    assert whole is not None
    assert after.rings == whole.rings
    assert after.bosses is before.bosses


def test_a_plate_without_a_shape_is_still_drawn_by_its_corners(qtbot: QtBot) -> None:
    bracket = sample("tallow_stub")
    plate = bracket.plates[0]
    wrong = plate.but(
        outline=(*plate.outline[:1], Corner(at_mm=(64, -54), radius_mm=500), *plate.outline[2:])
    )
    hand = Hand(qtbot, bracket.with_plate(wrong))
    assert hand.view.on_sheet is not None
    assert hand.view.on_sheet.pattern is None
    hand.view.set_findings(findings_of(hand.door.bracket))
    assert hand.view.marks().flags
    hand.view.grab()


def test_findings_are_placed_by_what_they_name() -> None:
    sheet = on_sheet(sample("marlpit_one_piece"), "plate")
    assert sheet is not None
    wheres = {
        "bolt 2": (-50, -30),
        "bolt 5, hole foot 2 of plate plate": (-22, 112),
        "boss top": (0, 52),
        "plate plate, opening shaft": (0, 0),
        "plate plate, fold line foot": (0, 84),
        "plate plate, outline, corner 3": (76, 50),
        "plate plate": (76, 128),
        "plate other": None,
        "bolt 2, hole x of plate other": None,
        "bracket": None,
    }
    for where, at in wheres.items():
        assert place_on_sheet(found("plate-loose", where), sheet) == at, where
    crossing = found("outline-crosses", "plate plate", x=1.5, y=2.5)
    assert place_on_sheet(crossing, sheet) == (1.5, 2.5)


@pytest.mark.parametrize("name", SAMPLES)
@pytest.mark.parametrize("size", [(700, 500), (1100, 800)])
def test_words_and_balloons_stay_apart_and_on_the_sheet(
    qtbot: QtBot, name: str, size: tuple[int, int]
) -> None:
    hand = Hand(qtbot, sample(name), size)
    hand.view.set_findings(findings_of(hand.door.bracket))
    marks = hand.view.marks()
    boxes = [box_on_screen(words) for words in marks.words if not words.name.startswith("fold")]
    boxes += [box_on_screen(mark.words) for mark in marks.dimensions]
    boxes += [balloon.box for balloon in marks.balloons] + [flag.box for flag in marks.flags]
    boxes = [box.adjusted(2.0, 2.0, -2.0, -2.0) for box in boxes]
    assert len(boxes) > 6
    for a, b in itertools.combinations(boxes, 2):
        assert not a.intersects(b), (a, b)
    inside = QRectF(hand.view.viewport().rect())
    for box in boxes:
        assert inside.contains(box), box


def test_fold_words_give_way_to_each_other(qtbot: QtBot) -> None:
    hand = Hand(qtbot, sample("gauge_tray"))
    folds = [words for words in hand.view.marks().words if words.name.startswith("fold angle")]
    assert len(folds) == len(hand.plate.folds)
    for a, b in itertools.combinations([box_on_screen(words) for words in folds], 2):
        assert not a.intersects(b)


@pytest.mark.parametrize("theme", [PAPER, SLATE])
def test_the_underlay_shows_under_the_plate_where_it_was_laid(qtbot: QtBot, theme: Theme) -> None:
    hand = Hand(qtbot, sample("tallow_stub"))
    hand.view.set_theme(theme)
    off_plate = hand.px((80, 100))
    before = hand.view.grab().toImage().pixelColor(off_plate)
    image = QImage(100, 50, QImage.Format.Format_RGB32)
    image.fill(QColor("#0000ff"))
    hand.view.set_underlay(image, 2.0, (-100.0, 20.0))
    under = hand.view.grab().toImage().pixelColor(off_plate)
    assert under.blue() > before.blue() or under.red() < before.red() - 40
    assert hand.view.grab().toImage().pixelColor(hand.px((80, 10))) == before
    hand.view.set_underlay(None)
    assert hand.view.grab().toImage().pixelColor(off_plate) == before


def test_the_selected_thing_is_drawn_heavier_not_only_in_another_colour(qtbot: QtBot) -> None:
    hand = Hand(qtbot, sample("tallow_stub"))
    at = hand.px((64, 60))

    grounds = [QColor(PAPER.ground), QColor(PAPER.plate)]

    def line_px() -> int:
        image = hand.view.grab().toImage()
        row = [image.pixelColor(at.x() + dx, at.y()) for dx in range(-6, 7)]
        return sum(1 for px in row if all(abs(px.blue() - ground.blue()) > 25 for ground in grounds))

    plain = line_px()
    hand.door.select(Pick("edge", plate="plate", index=1))
    assert line_px() > plain


def test_nothing_is_changed_in_a_bracket_that_may_only_be_read(qtbot: QtBot) -> None:
    before = sample("tallow_stub")
    hand = Hand(qtbot, before)
    hand.door.set_read_only("this file is open in another window, so it can only be read here")
    hand.drag((64, 40), (70, 40))
    assert hand.door.drawn == before
    hand.click((-40, 22))
    hand.key("9")
    hand.type_in("")
    assert "another window" in hand.view.entry.wrong
    assert hand.door.bracket == before


def test_the_figures_of_the_caption_are_exact() -> None:
    plate = sample("tallow_stub").plates[0]
    sheet = on_sheet(sample("tallow_stub"), "plate")
    assert sheet is not None
    assert sheet.figures is not None
    assert sheet.figures.cut_length_mm == flat_pattern(plate).cut_length_mm
