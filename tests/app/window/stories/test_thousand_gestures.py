"""A thousand seeded gestures all over the window: nothing raises, undo goes to the start, redo to the end."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QAbstractSlider, QApplication, QComboBox, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from app.editing.moved_shapes import middle_of
from app.window.actions import ACTIONS
from app.window.flat.tool_table import TOOLS
from app.window.flat.under import loops_of, under
from app.window.flat.under_menu import choices
from app.window.forms.form import Form
from app.window.lists.field_edit import FieldEdit
from geometry.bracket import Bracket
from geometry.flat_segments import Flat
from tests.app.window.stories.hands import CTRL, WindowHand, sample, window_in_hand

A_THOUSAND, A_FEW = 1000, 60
BEGINS_ANEW = ("new.blank", "new.sample", "file.open", "file.recent", "file.again", "file.leave")
"""Actions that take the bracket away and its steps with it."""
TYPED = ("12", "7.5", "-3", "1 5/8 in", "6,5", "42+3", "S275", "8.8", "M8", "", "x", "1e9", "0", "30 N.m")
KEYS = (
    Qt.Key.Key_Left,
    Qt.Key.Key_Up,
    Qt.Key.Key_Tab,
    Qt.Key.Key_Backtab,
    Qt.Key.Key_Return,
    Qt.Key.Key_Escape,
    Qt.Key.Key_Delete,
    Qt.Key.Key_Space,
    Qt.Key.Key_F4,
    Qt.Key.Key_Down,
)


class Anybody:
    """Does one gesture after another, chosen by a seeded die."""

    def __init__(self, hand: WindowHand, seed: int) -> None:
        self.hand, self.die = hand, random.Random(seed)
        self.done: Counter[str] = Counter()
        self.log: list[str] = []
        ways: tuple[tuple[int, Callable[[], None]], ...] = (
            (12, self.click),
            (20, self.drag),
            (10, self.press_key),
            (10, self.nudge),
            (10, self.take_tool),
            (4, self.saw),
            (4, self.fold),
            (6, self.remove),
            (5, self.copy_and_paste),
            (8, self.type_number),
            (10, self.type_field),
            (8, self.choose),
            (6, self.press_something),
            (6, self.use_menu),
            (4, self.mounted),
            (12, self.step),
        )
        self.ways = [way for _, way in ways]
        self._weights = [weight for weight, _ in ways]

    def gesture(self) -> None:
        (way,) = self.die.choices(self.ways, self._weights)
        self.done[way.__name__] += 1
        self.log.append(way.__name__)
        way()
        popup = QApplication.activePopupWidget()
        if popup is not None:
            popup.close()

    # ---- on the sheet

    def place(self) -> Flat:
        """Return a place, more often than not near something that can be taken hold of."""
        sheet = self.hand.view.on_sheet
        if sheet is not None and self.die.random() < 0.7:
            things = [corner.at_mm for _, corners in loops_of(sheet.plate) for corner in corners]
            things += [middle_of(opening) for opening in sheet.plate.openings]
            things += [fold.from_mm for fold in sheet.plate.folds]
            things += [boss.at_mm for boss in sheet.bosses]
            x, y = self.die.choice(things)
            return (x + self.die.uniform(-3, 3), y + self.die.uniform(-3, 3))
        return (self.die.uniform(-110, 110), self.die.uniform(-80, 150))

    def click(self) -> None:
        self.hand.click(self.place())

    def drag(self) -> None:
        start = self.place()
        if self.die.random() < 0.7:
            self.hand.drag(start, (start[0] + self.die.uniform(-9, 9), start[1] + self.die.uniform(-9, 9)))
        else:
            self.hand.drag(start, self.place())

    def press_key(self) -> None:
        self.hand.key(self.die.choice(KEYS))

    def nudge(self) -> None:
        self.hand.sheet_key(Qt.Key.Key_Escape)
        self.hand.click(self.place())
        shift = self.die.choice((Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ShiftModifier))
        for _ in range(self.die.randrange(1, 4)):
            self.hand.sheet_key(self.die.choice(KEYS[:2]), shift)

    def take_tool(self) -> None:
        self.hand.sheet_key(self.die.choice(TOOLS).key)

    def across(self, tool: str) -> None:
        plate = next((p for p in self.hand.bracket.plates if p.name == self.hand.door.shown_plate), None)
        if plate is None:
            return
        xs, ys = zip(*(corner.at_mm for corner in plate.outline), strict=True)
        self.hand.view.set_tool(tool)
        if self.die.random() < 0.5:
            x = self.die.uniform(min(xs), max(xs))
            self.hand.drag((x, min(ys) - 5), (x, max(ys) + 5))
        else:
            y = self.die.uniform(min(ys), max(ys))
            self.hand.drag((min(xs) - 5, y), (max(xs) + 5, y))

    def saw(self) -> None:
        self.across("saw")

    def fold(self) -> None:
        self.across("fold")

    def remove(self) -> None:
        self.hand.sheet_key(Qt.Key.Key_Escape)
        self.hand.click(self.place())
        self.hand.sheet_key(Qt.Key.Key_Delete)

    def copy_and_paste(self) -> None:
        self.hand.click(self.place())
        self.hand.sheet_key(Qt.Key.Key_C, CTRL)
        self.hand.hover(self.place())
        self.hand.sheet_key(Qt.Key.Key_V, CTRL)

    def type_number(self) -> None:
        entry = self.hand.view.entry
        self.hand.sheet_key(self.die.choice((Qt.Key.Key_Return, Qt.Key.Key_5, Qt.Key.Key_F2)))
        if entry.isVisible():
            QTest.keyClicks(entry, self.die.choice(TYPED))
            QTest.keyClick(
                entry,
                self.die.choice((Qt.Key.Key_Return, Qt.Key.Key_Return, Qt.Key.Key_Tab, Qt.Key.Key_Escape)),
            )

    def choose(self) -> None:
        """Choose from the menu of what lies at a place; the menu itself would wait for an answer."""
        view, at = self.hand.view, self.place()
        sheet = view.on_sheet
        pick = None if sheet is None or view.is_bare else under(sheet, at, 10.0 / view.px_per_mm)
        view.door.select(pick)
        self.die.choice(choices(view, pick, at)).do()

    # ---- on the rest of the window

    def type_field(self) -> None:
        fields = self.seen(FieldEdit)
        if fields:
            edit = self.die.choice(fields)
            QTest.mouseClick(edit, Qt.MouseButton.LeftButton, pos=edit.rect().center())
            text = self.die.choice(TYPED) if self.die.random() < 0.6 else edit.text()
            edit.selectAll()
            QTest.keyClicks(edit, text)
            QTest.keyClick(edit, self.die.choice((Qt.Key.Key_Return, Qt.Key.Key_Tab, Qt.Key.Key_Escape)))

    def press_something(self) -> None:
        things: list[QWidget] = [
            *self.seen(QAbstractButton),
            *self.seen(QAbstractSlider),
            *self.seen(QLineEdit),
            *self.seen(QComboBox),
        ]
        thing = self.die.choice(things)
        at = QPoint(self.die.randrange(max(thing.width(), 1)), self.die.randrange(max(thing.height(), 1)))
        QTest.mouseClick(thing, Qt.MouseButton.LeftButton, pos=at)

    def use_menu(self) -> None:
        row = self.die.choice([row for row in ACTIONS if row.name not in BEGINS_ANEW])
        action = self.hand.window.actions_by_name[row.name]
        if not row.choices:
            action.trigger()
            return
        menu = action.menu()
        menu.aboutToShow.emit()
        offered = [choice for choice in menu.actions() if choice.isEnabled()]
        if offered:
            self.die.choice(offered).trigger()

    def mounted(self) -> None:
        view = self.hand.page.mounted
        a, b = (QPoint(self.die.randrange(view.width()), self.die.randrange(view.height())) for _ in range(2))
        QTest.mousePress(view, Qt.MouseButton.LeftButton, pos=a)
        QTest.mouseMove(view, b)
        QTest.mouseRelease(view, Qt.MouseButton.LeftButton, pos=self.die.choice((a, b)))

    def step(self) -> None:
        for _ in range(self.die.randrange(1, 4)):
            self.hand.key(self.die.choice((Qt.Key.Key_Z, Qt.Key.Key_Y, Qt.Key.Key_Z)), CTRL)

    def seen(self, kind: type[QWidget]) -> list[QWidget]:
        return [w for w in self.hand.window.findChildren(kind) if w.isVisible() and w.isEnabled()]


@pytest.mark.long
@pytest.mark.parametrize("seed", range(20, 23))
def test_a_thousand_gestures_can_be_undone_to_the_start_and_redone_to_the_end(
    qtbot: QtBot, seed: int
) -> None:
    work_and_undo(qtbot, seed, A_THOUSAND, in_3d=True)


def test_a_few_gestures_can_be_undone_to_the_start_and_redone_to_the_end(qtbot: QtBot) -> None:
    work_and_undo(qtbot, 20, A_FEW)


def work_and_undo(qtbot: QtBot, seed: int, gestures: int, *, in_3d: bool = False) -> None:
    start = sample("marlpit_one_piece")
    with window_in_hand(qtbot, in_3d=in_3d) as hand:
        hand.window.starts.from_sample("marlpit_one_piece")
        anybody = Anybody(hand, seed)
        changes: list[Bracket] = []
        hand.door.changed.connect(changes.append)
        for number in range(gestures):
            anybody.gesture()
            if number % 10 == 0:
                hand.settle()
        put_everything_down(hand)
        assert len(changes) > gestures // 10
        assert min(anybody.done[way.__name__] for way in anybody.ways) >= gestures // 200, anybody.done
        end, steps = hand.bracket, hand.door.steps
        index = steps.index()
        while steps.canUndo():
            hand.undo()
        assert hand.bracket == start
        for _ in range(index):
            hand.redo()
        assert hand.bracket == end
        while steps.canRedo():
            hand.redo()
        while steps.canUndo():
            hand.undo()
        assert hand.bracket == start
        assert hand.door.drawn == start


def put_everything_down(hand: WindowHand) -> None:
    """Leave what is being typed, drawn or read, as Escape does."""
    if hand.window.shows_help:
        hand.key(Qt.Key.Key_Escape)
    form = hand.page.sheet.form
    if isinstance(form, Form):
        QTest.keyClick(form, Qt.Key.Key_Escape)
    hand.page.trial.put_back()
    hand.window.setFocus()
    hand.view.entry.close_entry()
    hand.view.set_tool("select")
    hand.view.setFocus()
    hand.settle()
