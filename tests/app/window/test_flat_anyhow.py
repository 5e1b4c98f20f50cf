"""The flat pattern view under a seeded stream of gestures: nothing breaks, and every step can be undone."""

from __future__ import annotations

import random
import statistics
import time

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from app.editing.moved_shapes import middle_of
from app.editing.names import plate_of
from app.editing.outline import move_corner
from app.window.flat.tool_table import TOOLS
from app.window.flat.under import loops_of, under
from app.window.flat.under_menu import choices
from app.window.selection import Pick
from geometry.bracket import Bracket
from geometry.findings import findings_of
from tests.app.window.flat_hands import Hand, sample
from tests.pace import paced

_KEYS = (
    Qt.Key.Key_Left,
    Qt.Key.Key_Up,
    Qt.Key.Key_Tab,
    Qt.Key.Key_Return,
    Qt.Key.Key_Escape,
    Qt.Key.Key_Delete,
    Qt.Key.Key_Backspace,
    Qt.Key.Key_3,
    Qt.Key.Key_F,
    Qt.Key.Key_Minus,
)
FRAME_MS = 1000.0 / 30.0


class _Anyhow:
    """Does one gesture after another, chosen by a seeded die."""

    def __init__(self, hand: Hand, seed: int) -> None:
        self.hand, self.die = hand, random.Random(seed)

    def place(self) -> QPointF:
        """Return any pixel, more often than not near something that can be taken hold of."""
        sheet = self.hand.view.on_sheet
        if sheet is not None and self.die.random() < 0.6:
            things = [corner.at_mm for _, corners in loops_of(sheet.plate) for corner in corners]
            things += [middle_of(opening) for opening in sheet.plate.openings]
            things += [fold.from_mm for fold in sheet.plate.folds]
            at = self.hand.view.to_px(self.die.choice(things))
            return at + QPointF(self.die.randrange(-6, 7), self.die.randrange(-6, 7))
        size = self.hand.view.viewport().size()
        return QPointF(self.die.randrange(size.width()), self.die.randrange(size.height()))

    def gesture(self) -> None:
        view = self.hand.view
        match self.die.randrange(11):
            case 0 | 1:
                self.hand.click_px(self.place())
            case 2 | 3 | 4:
                self.hand.drag_px(self.place(), self.place())
            case 5 | 6:
                self.hand.key(self.die.choice(_KEYS))
            case 7:
                view.set_tool(self.die.choice(TOOLS).name)
            case 8:
                QTest.mouseMove(view.viewport(), self.place().toPoint())
                QTest.keyClicks(view.entry if view.entry.isVisible() else view, self.die.choice("5hlcxq"))
            case 9:
                self.choose()
            case _:
                self.step()
        if view.entry.isVisible() and self.die.random() < 0.5:
            QTest.keyClick(
                view.entry, self.die.choice((Qt.Key.Key_Return, Qt.Key.Key_Tab, Qt.Key.Key_Escape))
            )

    def choose(self) -> None:
        view, at = self.hand.view, self.hand.view.to_flat(self.place())
        sheet = view.on_sheet
        pick = None if sheet is None or view.is_bare else under(sheet, at, 10.0 / view.px_per_mm)
        view.door.select(pick)
        self.die.choice(choices(view, pick, at)).do()

    def step(self) -> None:
        door = self.hand.door
        self.die.choice((door.undo, door.redo, self.hand.view.copy, self.hand.view.paste))()


@pytest.mark.parametrize(
    ("name", "seed"), [("marlpit_one_piece", 1), ("ostler_cut_out", 2), ("gauge_tray", 3)]
)
def test_any_gestures_leave_steps_that_undo_to_the_start_and_redo_to_the_end(
    qtbot: QtBot, name: str, seed: int
) -> None:
    start = sample(name)
    hand = Hand(qtbot, start)
    hand.view.set_findings(findings_of(start))
    anyhow = _Anyhow(hand, seed)
    changes: list[Bracket] = []
    hand.door.changed.connect(changes.append)
    for number in range(150):
        anyhow.gesture()
        if number % 10 == 0:
            hand.view.grab()
    hand.view.entry.close_entry()
    hand.view.set_tool("select")
    hand.door.drop_preview()
    assert len(changes) > 5
    end, steps = hand.door.bracket, hand.door.steps.index()
    while hand.door.steps.canUndo():
        hand.door.undo()
    assert hand.door.bracket == start
    for _ in range(steps):
        hand.door.redo()
    assert hand.door.bracket == end
    assert hand.door.drawn == end


def test_a_dragged_corner_keeps_thirty_frames_a_second(qtbot: QtBot) -> None:
    """Processor time of this process alone, so that a busy machine does not fail it."""
    hand = Hand(qtbot, sample("marlpit_one_piece"), (1100, 800))
    hand.door.select(Pick("corner", plate="plate", index=2))
    taken = []
    for number in range(25):
        begun = time.process_time()
        to = (76.0 + 0.1 * number, 50.0 + 0.1 * number)
        hand.view.preview(lambda b, to=to: b.with_plate(move_corner(plate_of(b, "plate"), 2, to)))
        hand.view.viewport().repaint()
        QApplication.processEvents()
        taken.append(1000.0 * (time.process_time() - begun))
    assert statistics.median(taken) < paced(FRAME_MS)
