"""The menu bar made from the table of actions."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import Any, Final

from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QAction, QCursor, QKeySequence
from PySide6.QtWidgets import QMenu, QMenuBar, QWidget

from app.window.action import Action
from app.window.door import Door

_MOST_CHOICES: Final = 40


class Menus:
    """Keeps every menu, its keys and its ticks in step with the table."""

    def __init__(self, bar: QMenuBar, table: Sequence[Action], parts: object, window: QWidget) -> None:
        """`parts` has as attributes what the `calls` of the table name."""
        self._bar, self._parts, self._window = bar, parts, window
        self.actions: dict[str, QAction] = {}
        self._menus: dict[str, QMenu] = {}
        self._letters: dict[str, set[str]] = {"": set()}
        for row in table:
            self._add(row)

    def add_steps(self, door: Door, before: str) -> None:
        """Put undo and redo on the bar itself, each naming its step, before the menu of that name.

        They ask the door, not its stack: a gesture in progress is what is taken back first.
        """
        steps = door.steps
        undo, redo = QAction(self._window), QAction(self._window)
        for action, words, told, text, do in (
            (undo, _said("Undo:"), steps.undoTextChanged, steps.undoText, door.undo),
            (redo, _said("Redo:"), steps.redoTextChanged, steps.redoText, door.redo),
        ):
            _name_step(action, words, text())
            told.connect(partial(_name_step, action, words))
            action.triggered.connect(do)
        undo.setShortcut(QKeySequence("Ctrl+Z"))
        redo.setShortcuts([QKeySequence("Ctrl+Shift+Z"), QKeySequence("Ctrl+Y")])
        place = self._menus[before].menuAction()
        for name, action, possible in (("undo", undo, steps.canUndo), ("redo", redo, steps.canRedo)):
            self._bar.insertAction(place, action)
            self.actions[name] = action
            action.setVisible(possible())
        steps.canUndoChanged.connect(undo.setVisible)
        steps.canRedoChanged.connect(redo.setVisible)

        # An action that is not seen has no key either, and the first gesture has no step below it.
        def offer_undo() -> None:
            undo.setVisible(steps.canUndo() or door.drawn is not door.bracket)

        door.previewed.connect(offer_undo)
        door.opened.connect(offer_undo)

    def offer(self, name: str) -> None:
        """Open the choices of an action at the pointer."""
        menu = self.actions[name].menu()
        if isinstance(menu, QMenu):
            menu.popup(QCursor.pos())

    def _add(self, row: Action) -> None:
        menu = self._menu(row.menu)
        if row.line_above:
            menu.addSeparator()
        words = self._with_letter(_said(row.words), row.menu)
        if row.choices:
            under = QMenu(words, menu)
            under.aboutToShow.connect(partial(self._fill, under, row))
            menu.addMenu(under)
            self.actions[row.name] = under.menuAction()
            return
        # a key that the view listens to is only written here: as a key of the menu it would be taken while
        # somebody goes through the menus by their letters
        action = QAction(f"{words}\t{row.key}" if row.key_of_view else words, self._window)
        if row.key and not row.key_of_view:
            action.setShortcut(QKeySequence(row.key))
        if row.ticked:
            action.setCheckable(True)
        action.triggered.connect(partial(self._do, row, row.argument))
        menu.addAction(action)
        self._window.addAction(action)
        if row.ticked:
            menu.aboutToShow.connect(partial(self._tick, action, row))
        self.actions[row.name] = action

    def _menu(self, words: str) -> QMenu:
        if words not in self._menus:
            self._letters[words] = set()
            self._menus[words] = self._bar.addMenu(self._with_letter(_said(words), ""))
            self._menus[words].setToolTipsVisible(True)
        return self._menus[words]

    def _with_letter(self, words: str, menu: str) -> str:
        """Return the words with the first letter marked that nothing else in that menu answers to."""
        taken = self._letters[menu]
        for place, letter in enumerate(words):
            if letter.isalpha() and letter.casefold() not in taken:
                taken.add(letter.casefold())
                return f"{words[:place]}&{words[place:]}"
        return words

    def _do(self, row: Action, argument: str | None, _ticked: bool = False) -> None:
        call = reached(self._parts, row.calls)
        if argument is None:
            call()
        else:
            call(argument)

    def _tick(self, action: QAction, row: Action) -> None:
        ask = reached(self._parts, row.ticked)
        action.setChecked(bool(ask() if row.argument is None else ask(row.argument)))

    def _fill(self, menu: QMenu, row: Action) -> None:
        menu.clear()
        choices = reached(self._parts, row.choices)()[:_MOST_CHOICES]
        for choice in choices:
            action = menu.addAction(choice.words.replace("&", "&&"))
            action.setToolTip(choice.tip or choice.words)
            action.setCheckable(choice.is_taken)
            action.setChecked(choice.is_taken)
            action.triggered.connect(partial(self._do, row, choice.argument))
        if not choices:
            menu.addAction(_said("none yet")).setEnabled(False)


def reached(parts: object, path: str) -> Callable[..., Any]:
    """Return what a dotted path names, beginning at `parts`; AttributeError if there is no such thing."""
    found: Any = parts
    for name in path.split("."):
        found = getattr(found, name)
    if not callable(found):
        raise AttributeError(f"{path} cannot be called")
    call: Callable[..., Any] = found
    return call


def _said(words: str) -> str:
    return QCoreApplication.translate("actions", words)


def _name_step(action: QAction, words: str, step: str) -> None:
    action.setText(f"{words} {step.replace('&', '&&')}")
