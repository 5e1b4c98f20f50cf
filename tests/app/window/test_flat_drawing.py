"""Drawing on the flat pattern: from nothing to a plate with holes, folds and a cut through it."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from app.window.selection import Pick
from geometry.bracket import Bracket
from geometry.casing import Boss, Casing, Envelope
from geometry.fixing import AtBoss, AtDashBar
from tests import brackets
from tests.app.window.flat_hands import Hand, sample


def with_casing() -> Bracket:
    """A casing with one boss and no plate."""
    boss = Boss(name="A", at_mm=(40, 30, 0), direction=(0, 0, 1), thread="M8", face_diameter_mm=20)
    envelope = Envelope(low_mm=(-50, -50, -100), high_mm=(50, 50, 0))
    return Bracket(casing=Casing(bosses=(boss,), envelope=envelope, mass_kg=4))


def test_an_empty_sheet_offers_three_ways_to_begin(qtbot: QtBot) -> None:
    hand = Hand(qtbot, Bracket())
    assert hand.view.invitation.isVisible()
    asked: list[str] = []
    hand.view.asked.connect(asked.append)
    for name in ("stock", "open", "outline"):
        link = hand.view.invitation.findChild(object, name)
        qtbot.mouseClick(link, Qt.MouseButton.LeftButton)
    assert asked == ["stock", "open", "outline"]
    assert hand.view.tool == "outline"
    assert not hand.view.invitation.isVisible()


def test_a_plate_is_drawn_from_nothing_and_a_hole_at_a_boss_is_bolted_at_once(qtbot: QtBot) -> None:
    hand = Hand(qtbot, with_casing())
    hand.key("p")
    for at in ((-60, -50), (60, -50), (60, 80), (-60, 80)):
        hand.click(at)
    assert not hand.door.bracket.plates
    hand.click((-60, -50))
    assert [c.at_mm for c in hand.plate.outline] == [(-60, -50), (60, -50), (60, 80), (-60, 80)]
    assert hand.view.tool == "select"
    assert hand.door.pick == Pick("plate", "plate")
    hand.key("h")
    hand.hover((40.4, 30.3))
    assert "boss A" in hand.view.said
    hand.click((40.4, 30.3))
    assert hand.plate.openings[0].name == "A"
    assert hand.door.bracket.bolts[0].joins == AtBoss(boss="A")
    hand.click((-30, 0))
    assert hand.plate.openings[1].kind == "hole"
    assert len(hand.door.bracket.bolts) == 1
    hand.door.undo()
    hand.door.undo()
    hand.door.undo()
    assert hand.door.bracket == with_casing()


def test_a_length_typed_while_drawing_goes_the_way_of_the_pointer(qtbot: QtBot) -> None:
    hand = Hand(qtbot, with_casing())
    hand.view.set_tool("outline")
    hand.click((0, 0))
    hand.hover((33, 0))
    hand.key("8")
    hand.type_in("7")
    hand.click((87, 40))
    hand.key(Qt.Key.Key_Return)
    assert [c.at_mm for c in hand.plate.outline] == [(0, 0), (87, 0), (87, 40)]


def test_backspace_takes_a_corner_back_and_esc_drops_the_run(qtbot: QtBot) -> None:
    hand = Hand(qtbot, with_casing())
    hand.view.set_tool("outline")
    for at in ((0, 0), (50, 0), (90, 70)):
        hand.click(at)
    hand.key(Qt.Key.Key_Backspace)
    hand.click((50, 50))
    hand.key(Qt.Key.Key_Escape)
    assert hand.view.tool == "outline"
    hand.key(Qt.Key.Key_Escape)
    assert hand.view.tool == "select"
    assert not hand.door.bracket.plates


def test_an_outline_without_area_is_refused_at_the_pointer(qtbot: QtBot) -> None:
    hand = Hand(qtbot, with_casing())
    hand.view.set_tool("outline")
    hand.click((0, 0))
    hand.click((50, 0))
    hand.key(Qt.Key.Key_Return)
    assert "2 corners" in hand.view.refused
    assert not hand.door.bracket.plates


def test_a_double_click_closes(qtbot: QtBot) -> None:
    hand = Hand(qtbot, with_casing())
    hand.view.set_tool("outline")
    hand.click((0, 0))
    hand.click((60, 0))
    hand.click((60, 60))
    qtbot.mouseDClick(hand.view.viewport(), Qt.MouseButton.LeftButton, pos=hand.px((60, 60)))
    assert len(hand.plate.outline) == 3


def test_a_fold_is_drawn_across_and_its_angle_and_direction_are_changed_at_the_line(qtbot: QtBot) -> None:
    hand = Hand(qtbot, sample("tallow_stub"))
    hand.key("l")
    hand.drag((-80, 62), (80, 62))
    (fold,) = hand.plate.folds
    assert {fold.from_mm, fold.to_mm} == {(-64, 62), (64, 62)}
    assert hand.view.tool == "select"
    hand.click_number(f"fold angle {fold.name}")
    hand.type_in("45")
    hand.click_number(f"fold direction {fold.name}")
    hand.click_number(f"fold radius {fold.name}")
    hand.type_in("8")
    (fold,) = hand.plate.folds
    assert (fold.angle_deg, fold.direction, fold.inside_radius_mm) == (45, "down", 8)


def test_the_saw_makes_two_plates_and_undo_makes_them_one(qtbot: QtBot) -> None:
    before = sample("tallow_stub")
    hand = Hand(qtbot, before)
    hand.key("w")
    hand.press((-90, 70))
    hand.drag_to((0, 70))
    hand.drag_to((90, 70))
    assert "saw" in hand.view.said
    hand.release((90, 70))
    assert len(hand.door.bracket.plates) == 2
    assert hand.last_step == "saw plate"
    hand.door.undo()
    assert hand.door.bracket == before


def test_the_saw_says_why_not_through_a_footprint(qtbot: QtBot) -> None:
    before = sample("tallow_stub")
    hand = Hand(qtbot, before)
    hand.key("w")
    hand.drag((-90, 95), (90, 95))
    assert "footprint" in hand.view.refused
    assert hand.door.bracket == before
    assert hand.view.tool == "saw"


def test_a_bolt_hole_over_the_dash_bar_is_bolted_to_it(qtbot: QtBot) -> None:
    hand = Hand(qtbot, sample("tallow_stub"))
    hand.key("b")
    hand.click((0, 95))
    bolt = hand.door.bracket.bolts[-1]
    assert isinstance(bolt.joins, AtDashBar)
    assert hand.plate.opening(bolt.hole).centre_mm == (0, 95)
    count = len(hand.door.bracket.bolts)
    hand.click((50, -10))
    assert len(hand.door.bracket.bolts) == count
    assert "nothing to bolt to" in hand.view.said


@pytest.mark.parametrize(
    ("tool", "start", "end", "kind"),
    [("slot", (-40, 60), (-10, 60), "slot"), ("rectangle", (20, 50), (50, 75), "cut-out")],
)
def test_slots_and_rectangles_are_dragged(
    qtbot: QtBot, tool: str, start: tuple[float, float], end: tuple[float, float], kind: str
) -> None:
    hand = Hand(qtbot, sample("tallow_stub"))
    hand.view.set_tool(tool)
    hand.drag(start, end)
    assert hand.plate.openings[-1].kind == kind
    assert hand.door.pick == Pick("opening", hand.plate.openings[-1].name, "plate")


def test_a_figure_typed_with_the_hole_tool_is_the_diameter(qtbot: QtBot) -> None:
    hand = Hand(qtbot, sample("tallow_stub"))
    hand.key("h")
    hand.hover((0, 60))
    hand.key("1")
    hand.type_in("2")
    hand.click((0, 60))
    hole = hand.plate.openings[-1]
    assert hole.kind == "hole"
    assert (hole.centre_mm, hole.diameter_mm) == ((0, 60), 12)


def test_corners_are_added_rounded_and_cut_off_and_edges_bent(qtbot: QtBot) -> None:
    hand = Hand(qtbot, sample("tallow_stub"))
    hand.view.set_tool("corner")
    hand.drag((64, 40), (74, 40))
    assert hand.plate.outline[2].at_mm == (74, 40)
    assert hand.last_step == "add corner 3"
    hand.view.set_tool("round")
    hand.click((74, 40))
    assert hand.plate.outline[2].radius_mm == hand.plate.thickness_mm
    hand.door.undo()
    hand.door.undo()
    hand.view.set_tool("chamfer")
    hand.view.memory["chamfer"] = 5
    hand.click((64, -54))
    assert len(hand.plate.outline) == 5
    hand.door.undo()


def test_an_edge_between_sharp_corners_is_bent_and_made_straight(qtbot: QtBot) -> None:
    plate = brackets.rectangle("plate", (-50, 50), (-40, 40), ())
    hand = Hand(qtbot, Bracket(plates=(plate,)))
    hand.view.set_tool("arc")
    hand.drag((0, -40), (0, -55))
    assert hand.plate.outline[0].arc_via_mm == (0, -55)
    hand.click((0, -55))
    assert hand.plate.outline[0].arc_via_mm is None


def test_a_plate_and_a_bolted_hole_are_made_by_keys_alone(qtbot: QtBot) -> None:
    hand = Hand(qtbot, with_casing())
    hand.key("p")
    for way, steps in ((Qt.Key.Key_Left, 30), (Qt.Key.Key_Up, 40), (Qt.Key.Key_Right, 60)):
        for _ in range(steps):
            hand.key(way)
        hand.key(Qt.Key.Key_Return)
    hand.key(Qt.Key.Key_Return)
    (a, b, c) = (corner.at_mm for corner in hand.plate.outline)
    assert (b[0] - a[0], b[1] - a[1]) in {(0, 40), (60, 40), (60, 0), (-60, -40), (0, -40), (-60, 0)}
    assert len({a, b, c}) == 3
    hand.door.select(Pick("boss", "A"))
    hand.key(Qt.Key.Key_Return)
    assert hand.door.bracket.bolts[0].joins == AtBoss(boss="A")


def test_a_tool_that_needs_a_plate_says_so_on_an_empty_sheet(qtbot: QtBot) -> None:
    hand = Hand(qtbot, Bracket())
    with qtbot.waitSignal(hand.door.told) as told:
        hand.view.set_tool("hole")
    assert "draw an outline first" in told.args[0]
    assert hand.view.tool == "select"


def test_measuring_changes_nothing(qtbot: QtBot) -> None:
    before = sample("tallow_stub")
    hand = Hand(qtbot, before)
    hand.key("m")
    hand.drag((-40, 22), (40, 22))
    assert hand.view.said == "80"
    assert hand.door.bracket == before


def test_an_opening_is_repeated_in_a_line(qtbot: QtBot) -> None:
    hand = Hand(qtbot, sample("tallow_stub"))
    hand.view.set_tool("hole")
    hand.click((-40, 60))
    hand.key(Qt.Key.Key_Escape)
    hand.view.set_tool("repeat")
    hand.hover((-20, 60))
    hand.key("3")
    hand.type_in("")
    hand.click((-20, 60))
    places = [o.centre_mm for o in hand.plate.openings[-3:] if o.kind == "hole"]
    assert places == [(-40, 60), (-20, 60), (0, 60)]
