"""Text shown to people goes through a translation, with the values put in after it."""

from __future__ import annotations

import ast
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QCoreApplication, QTranslator
from pytestqt.qtbot import QtBot

from app.window.worded import CONTEXT, worded

WINDOW = Path(__file__).parents[3] / "app" / "window"
SHOWS = frozenset(
    (
        "tell",
        "refuse",
        "note",
        "say",
        "setText",
        "setToolTip",
        "setAccessibleName",
        "setAccessibleDescription",
        "setPlaceholderText",
        "labelled",
    )
)
MAKES = frozenset(("QLabel", "QPushButton", "QCheckBox"))
NOT_YET: dict[str, int] = {
    "beside/ladder_leaf.py": 3,
    "inspection/desk.py": 8,
}
"""How many sentences of a file are not translated yet: this may only shrink."""


class _Other(QTranslator):
    """Another language that sets values the other way round."""

    def __init__(self, words: dict[str, str]) -> None:
        super().__init__()
        self._words = words

    def isEmpty(self) -> bool:  # noqa: N802 - Qt's name
        return False

    def translate(self, context: str, text: str, note: str | None = None, count: int = -1) -> str:
        return self._words.get(text, "") if context == CONTEXT else ""


def test_values_are_put_in_where_the_other_language_has_them(qtbot: QtBot) -> None:
    program = QCoreApplication.instance()
    assert program is not None
    other = _Other({"{name} holds {what}": "{what} : {name}", "{a} is": "{nothing} ist", "{a} was": "{a"})
    program.installTranslator(other)
    try:
        assert worded("{name} holds {what}", name="bolt 3", what="{braces}") == "{braces} : bolt 3"
        assert worded("{a} is", a="x") == "x is"
        assert worded("{a} was", a="x") == "x was"
    finally:
        program.removeTranslator(other)
    assert worded("{name} holds {what}", name="bolt 3", what="all") == "bolt 3 holds all"


@pytest.mark.parametrize(
    ("source", "count"),
    [
        ('self.door.refuse("draw one first")', 1),
        ('self.told.emit(f"{name} was not opened")', 1),
        ('QLabel("thickness")', 1),
        ('self.say(worded("draw one first"))', 0),
        ('self.say(self.tr("draw one first"))', 0),
        ("self.say(sentence)", 0),
        ('self.setText(f"{x} x {y}")', 0),
    ],
)
def test_the_scan_finds_what_is_not_translated(source: str, count: int) -> None:
    assert len(list(_bare(ast.parse(source)))) == count


def test_every_sentence_of_the_window_can_be_translated() -> None:
    found = Counter[str]()
    for file in sorted(WINDOW.rglob("*.py")):
        count = len(list(_bare(ast.parse(file.read_text(encoding="utf-8")))))
        if count:
            found[str(file.relative_to(WINDOW))] = count
    more = {name: count for name, count in found.items() if count > NOT_YET.get(name, 0)}
    assert not more, "wrap these in worded() or tr()"


def _bare(tree: ast.AST) -> Iterator[ast.expr]:
    """Yield what is shown to people and is literal text."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and node.args and _shows(node.func):
            shown = node.args[0]
            parts = shown.values if isinstance(shown, ast.JoinedStr) else [shown]
            words = "".join(
                p.value for p in parts if isinstance(p, ast.Constant) and isinstance(p.value, str)
            )
            if re.search(r"[A-Za-z]{2}", words):
                yield shown


def _shows(called: ast.expr) -> bool:
    if isinstance(called, ast.Name):
        return called.id in MAKES
    if not isinstance(called, ast.Attribute):
        return False
    if called.attr == "emit":
        return isinstance(called.value, ast.Attribute) and called.value.attr in ("told", "noted")
    return called.attr in SHOWS
