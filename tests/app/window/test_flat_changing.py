"""Changing what is drawn: drags, nudges, typed dimensions, flags, the menu."""

from __future__ import annotations

from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from app.theme import SLATE
from app.window.flat.under_menu import choices
from app.window.selection import Pick
from geometry.bracket import Bracket
from geometry.findings import findings_of
from geometry.plate import Hole
from tests import brackets
from tests.app.window.flat_hands import Hand, sample


def plain() -> Bracket:
    """One plate, 100 by 80, with one hole."""
    hole = Hole(name="h", centre_mm=(20, 10), diameter_mm=10)
    return Bracket(plates=(brackets.rectangle("plate", (-50, 50), (-40, 40), (hole,)),))


def test_a_corner_is_dragged_in_one_step(qtbot: QtBot) -> None:
    hand = Hand(qtbot, plain())
    hand.press((50, 40))
    hand.drag_to((60, 45))
    hand.drag_to((70, 55))
    assert hand.door.drawn.plates[0].outline[2].at_mm == (70, 55)
    assert hand.door.bracket == plain()
    hand.release((70, 55))
    assert hand.plate.outline[2].at_mm == (70, 55)
    assert hand.door.steps.count() == 1
    assert hand.last_step == "move corner 3"
    hand.door.undo()
    assert hand.door.bracket == plain()


def test_esc_drops_a_drag(qtbot: QtBot) -> None:
    hand = Hand(qtbot, plain())
    hand.press((50, 40))
    hand.drag_to((70, 60))
    hand.key(Qt.Key.Key_Escape)
    hand.release((70, 60))
    assert hand.door.drawn == plain()
    assert hand.door.steps.count() == 0


def test_an_edge_moves_square_to_itself_only(qtbot: QtBot) -> None:
    hand = Hand(qtbot, plain())
    hand.drag((50, 0), (65, 22))
    assert [c.at_mm for c in hand.plate.outline] == [(-50, -40), (65, -40), (65, 40), (-50, 40)]


def test_a_new_inside_corner_comes_with_a_radius(qtbot: QtBot) -> None:
    hand = Hand(qtbot, plain())
    hand.view.set_tool("corner")
    hand.drag((50, 0), (30, 0))
    assert hand.plate.outline[2].at_mm == (30, 0)
    assert hand.plate.outline[2].radius_mm == hand.plate.thickness_mm


def test_a_hole_is_dragged_and_sized_by_its_handle(qtbot: QtBot) -> None:
    hand = Hand(qtbot, plain())
    hand.drag((20, 10), (-15, -5))
    hole = hand.plate.openings[0]
    assert hole.centre_mm == (-15, -5)
    hand.drag((-10, -5), (-5, -5))
    hole = hand.plate.openings[0]
    assert hole.kind == "hole"
    assert hole.diameter_mm == 20
    assert hand.last_step == "size opening h"


def test_a_radius_is_dragged_by_its_handle(qtbot: QtBot) -> None:
    hand = Hand(qtbot, plain())
    hand.click((50, 40))
    handle = next(h for h in _handles(hand) if h.kind == "radius")
    hand.drag(handle.at_mm, (handle.at_mm[0] - 6, handle.at_mm[1] - 6))
    radius = hand.plate.outline[2].radius_mm
    assert 15 < radius < 25
    assert radius == round(radius, 1)


def test_folds_are_dragged_whole_and_by_their_ends(qtbot: QtBot) -> None:
    hand = Hand(qtbot, sample("marlpit_one_piece"))
    hand.drag((35, 84), (35, 80))
    (fold,) = hand.plate.folds
    assert fold.from_mm[1] == fold.to_mm[1] == 80
    hand.drag(fold.to_mm, (76, 78))
    (fold,) = hand.plate.folds
    assert (fold.from_mm[1], fold.to_mm[1]) == (80, 78)
    assert hand.last_step == "turn fold foot"


def test_arrow_keys_nudge_and_shift_nudges_finer(qtbot: QtBot) -> None:
    hand = Hand(qtbot, plain())
    hand.click((20, 10))
    hand.key(Qt.Key.Key_Right)
    assert hand.plate.openings[0].centre_mm == (21, 10)
    hand.key(Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    assert hand.plate.openings[0].centre_mm == (21, 10.1)
    assert hand.last_step == "nudge opening h"
    for _ in range(3):
        QTest.keyPress(hand.view, Qt.Key.Key_Left)
    QTest.keyRelease(hand.view, Qt.Key.Key_Left)
    assert hand.plate.openings[0].centre_mm == (18, 10.1)
    assert hand.door.steps.count() == 3


def test_a_nudge_in_inches_is_a_sixteenth(qtbot: QtBot) -> None:
    hand = Hand(qtbot, plain())
    hand.view.set_inch(True)
    hand.click((20, 10))
    hand.key(Qt.Key.Key_Down)
    assert hand.plate.openings[0].centre_mm == (20, 10 - 25.4 / 16)


def test_what_undo_takes_away_is_no_longer_selected(qtbot: QtBot) -> None:
    hand = Hand(qtbot, plain())
    hand.view.set_tool("hole")
    hand.click((-20, -10))
    hand.view.set_tool("select")
    assert hand.door.pick is not None
    hand.door.undo()
    assert hand.door.pick is None
    hand.key(Qt.Key.Key_Right)
    assert hand.door.bracket == plain()


def test_delete_removes(qtbot: QtBot) -> None:
    hand = Hand(qtbot, plain())
    hand.click((20, 10))
    hand.key(Qt.Key.Key_Delete)
    assert not hand.plate.openings
    hand.click((50, 40))
    hand.key(Qt.Key.Key_Delete)
    assert len(hand.plate.outline) == 3


def test_a_dimension_is_typed_over(qtbot: QtBot) -> None:
    hand = Hand(qtbot, plain())
    hand.click((20, 10))
    hand.click_number("diameter")
    assert hand.view.entry.isVisible()
    assert hand.view.entry.text() == "10"
    hand.type_in("6,5+3")
    hole = hand.plate.openings[0]
    assert hole.kind == "hole"
    assert hole.diameter_mm == 9.5
    assert not hand.view.entry.isVisible()
    hand.click_number("plate width")
    hand.type_in("4 1/2 in")
    assert max(c.at_mm[0] for c in hand.plate.outline) == -50 + 4.5 * 25.4


def test_what_cannot_be_stays_in_the_entry_with_a_sentence(qtbot: QtBot) -> None:
    hand = Hand(qtbot, plain())
    hand.click((20, 10))
    hand.click_number("diameter")
    hand.type_in("wide")
    assert hand.view.entry.isVisible()
    assert "wide" in hand.view.entry.wrong
    hand.view.entry.selectAll()
    hand.type_in("-4")
    assert hand.view.entry.isVisible()
    assert "diameter" in hand.view.entry.wrong
    assert hand.door.bracket == plain()
    QTest.keyClick(hand.view.entry, Qt.Key.Key_Escape)
    assert not hand.view.entry.isVisible()
    assert hand.view.hasFocus()


def test_tab_goes_to_the_next_number(qtbot: QtBot) -> None:
    hand = Hand(qtbot, plain())
    hand.click((20, 10))
    hand.key(Qt.Key.Key_Return)
    assert hand.view.entry.accessibleName() == "diameter"
    hand.type_in("12", end=Qt.Key.Key_Tab)
    assert hand.view.entry.accessibleName() == "x from centre"
    hand.type_in("25", end=Qt.Key.Key_Tab)
    assert hand.view.entry.accessibleName() == "y from centre"
    assert hand.plate.openings[0].centre_mm == (25, 10)


def test_a_figure_begins_the_first_number(qtbot: QtBot) -> None:
    hand = Hand(qtbot, plain())
    hand.click((20, 10))
    hand.key("7")
    assert hand.view.entry.text() == "7"
    hand.type_in("")
    hole = hand.plate.openings[0]
    assert hole.kind == "hole"
    assert hole.diameter_mm == 7


def test_thickness_is_typed_in_the_caption_and_a_blank_material_is_asked_for(qtbot: QtBot) -> None:
    bracket = plain()
    hand = Hand(qtbot, bracket.with_plate(bracket.plates[0].but(material=None)))
    hand.click_number("thickness")
    hand.type_in("8")
    assert hand.plate.thickness_mm == 8
    with qtbot.waitSignal(hand.view.asked) as asked:
        hand.click_number("material")
    assert asked.args == ["material"]


def test_tab_walks_through_everything_and_leaves_at_the_end(qtbot: QtBot) -> None:
    hand = Hand(qtbot, plain())
    seen: list[Pick] = []
    for _ in range(10):
        hand.key(Qt.Key.Key_Tab)
        if hand.door.pick is None:
            break
        seen.append(hand.door.pick)
    hand.key(Qt.Key.Key_Tab)
    assert [p.kind for p in seen] == ["plate", *["corner", "edge"] * 4, "opening"]
    assert hand.door.pick is None
    hand.door.select(Pick("corner", plate="plate", index=2))
    assert hand.view.accessibleDescription().startswith("corner 3: x 50, y 40")


def test_copy_and_paste_of_an_opening(qtbot: QtBot) -> None:
    hand = Hand(qtbot, plain())
    hand.click((20, 10))
    hand.key(Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    hand.hover((-20, -10))
    hand.key(Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    assert hand.plate.openings[1].kind == "hole"
    assert hand.plate.openings[1].centre_mm == (-20, -10)


def test_copy_and_paste_of_a_plate(qtbot: QtBot) -> None:
    hand = Hand(qtbot, plain())
    hand.door.select(Pick("plate", "plate"))
    hand.key(Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    hand.key(Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    assert len(hand.door.bracket.plates) == 2


def test_the_pointer_says_what_catches_it(qtbot: QtBot) -> None:
    hand = Hand(qtbot, sample("tallow_stub"))
    hand.key("h")
    hand.hover((-40.6, 60.4))
    assert "in line" in hand.view.said
    hand.key(Qt.Key.Key_Escape)
    hand.hover((64, 40))
    assert hand.view.said == "edge 2"


def test_flags_stand_at_the_place_and_the_mend_is_done_from_the_note(qtbot: QtBot) -> None:
    bracket = sample("tallow_stub")
    plate = bracket.plates[0]
    small = plate.with_opening(Hole(name="low", centre_mm=(0, -38), diameter_mm=8))
    hand = Hand(qtbot, bracket.with_plate(small))
    findings = findings_of(hand.door.bracket)
    number = next(n for n, f in enumerate(findings, 1) if f.code == "hole-too-small")
    hand.view.set_findings(findings)
    flag = next(f for f in hand.view.marks().flags if f.number == number)
    assert (flag.tip - hand.view.to_px((0, -38))).manhattanLength() < 0.01
    hand.click_px(flag.box.center())
    assert hand.view.note.isVisible()
    assert "8 mm" in hand.view.note.accessibleName()
    QTest.keyClick(hand.view.note.findChild(object, "mend"), Qt.Key.Key_Space)
    hole = hand.plate.opening("low")
    assert isinstance(hole, Hole)
    assert hole.diameter_mm > 10
    assert not hand.view.note.isVisible()


def test_a_balloon_picks_its_bolt(qtbot: QtBot) -> None:
    hand = Hand(qtbot, sample("tallow_stub"))
    balloon = next(b for b in hand.view.marks().balloons if b.bolt == "3")
    hand.click_px(balloon.box.center())
    assert hand.door.pick == Pick("bolt", "3")


def test_the_menu_says_in_words_what_can_be_done(qtbot: QtBot) -> None:
    hand = Hand(qtbot, plain())
    pick = Pick("opening", "h", "plate")
    found = {choice.words: choice for choice in choices(hand.view, pick, (20, 10))}
    found["repeat on the other side"].do()
    assert hand.plate.openings[1].kind == "hole"
    assert hand.plate.openings[1].centre_mm == (-20, 10)
    found = {choice.words: choice for choice in choices(hand.view, Pick("corner", "", "plate", 2), (50, 40))}
    found["round it, radius 6"].do()
    assert hand.plate.outline[2].radius_mm == 6
    assert "remove plate" in {c.words for c in choices(hand.view, None, (90, 90))}
    assert len(hand.view.menu_at(None, (0, 0)).actions()) > 3


def test_the_sheet_is_panned_by_its_ground_and_zoomed_at_the_pointer(qtbot: QtBot) -> None:
    hand = Hand(qtbot, plain())
    hand.view.zoom(4.0, hand.view.to_px((30, 20)))
    before = hand.view.to_px((0, 0))
    hand.drag_px(QPointF(400, 300), QPointF(460, 340))
    moved = hand.view.to_px((0, 0)) - before
    assert (round(moved.x()), round(moved.y())) == (60, 40)
    assert hand.door.steps.count() == 0
    px = QPointF(300, 200)
    at = hand.view.to_flat(px)
    hand.view.zoom(1.7, px)
    assert (hand.view.to_px(at) - px).manhattanLength() < 2.0
    hand.key("f")
    assert hand.view.is_fitted


def test_panning_over_the_plate_selects_nothing_but_a_click_does(qtbot: QtBot) -> None:
    hand = Hand(qtbot, plain())
    hand.drag_px(hand.view.to_px((-20, 0)), hand.view.to_px((-10, 10)))
    assert hand.door.pick is None
    hand.click((-20, 0))
    assert hand.door.pick == Pick("plate", "plate")
    hand.click((0, 70))
    assert hand.door.pick is None


def test_a_sharp_inside_corner_is_rounded_by_one_click(qtbot: QtBot) -> None:
    hand = Hand(qtbot, sample("ostler_cut_out"))
    sharp = [w for w in hand.view.marks().words if w.text == "sharp"]
    assert sharp
    hand.click_px(sharp[0].box.center())
    assert len([w for w in hand.view.marks().words if w.text == "sharp"]) == len(sharp) - 1


def test_space_is_left_to_the_window(qtbot: QtBot) -> None:
    hand = Hand(qtbot, plain())
    from PySide6.QtCore import QEvent
    from PySide6.QtGui import QKeyEvent

    event = QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_Space, Qt.KeyboardModifier.NoModifier, " ")
    event.accept()
    hand.view.keyPressEvent(event)
    assert not event.isAccepted()


def test_another_look_and_inches_write_other_words(qtbot: QtBot) -> None:
    hand = Hand(qtbot, plain())
    hand.view.set_theme(SLATE)
    hand.view.set_inch(True)
    words = [mark.words.text for mark in hand.view.marks().dimensions]
    assert "3 15/16" in " ".join(words)
    assert hand.view.grab().toImage().pixelColor(880, 400).name() == SLATE.ground


def _handles(hand: Hand) -> tuple[object, ...]:
    from app.window.flat.handles import handles_of

    return handles_of(hand.plate, hand.door.pick, hand.view.px_per_mm)
