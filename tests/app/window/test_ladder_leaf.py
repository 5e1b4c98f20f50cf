"""The leaf Ladder by real events: run, progress, stop, CSV, and no wait in the window's thread."""

from __future__ import annotations

import csv
import threading
from collections.abc import Generator, Iterator, Sequence
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from app.ladder.climb import Judge
from app.ladder.rung import Answer
from app.theme import PAPER
from app.window.background import Stopped
from app.window.beside.ladder_leaf import LadderLeaf
from app.window.door import Door
from app.window.leaf_asks import LeafAsks
from app.window.main_window import PAGES
from geometry.bracket import Bracket
from geometry.finding_words import found
from tests.app.window.shown import window_shown
from tests.brackets import one_piece


class Told(LeafAsks):
    """Names the file it was told."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def where_to_put_ladder(self, over: QWidget, suggested: Path) -> Path | None:
        return self.path


class Scales:
    """Judges by thickness alone, one step each time it is let."""

    def __init__(self) -> None:
        self.let = threading.Semaphore(0)
        self.threads: set[int] = set()
        self.asked: list[float] = []

    def make(self, stopped: Stopped) -> Judge:
        def judge(brackets: Sequence[Bracket]) -> Generator[tuple[Bracket, Answer], None, None]:
            for bracket in brackets:
                while not self.let.acquire(timeout=0.01):
                    if stopped():
                        return
                self.threads.add(threading.get_ident())
                thick = bracket.plates[0].thickness_mm
                self.asked.append(thick)
                good = thick >= 5.0
                yield (
                    bracket,
                    Answer(verdict="pass" if good else "fail", holds_to_nm=10.0 * thick, mass_kg=thick / 4.0),
                )

        return judge


@pytest.fixture
def leaf(
    qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[tuple[LadderLeaf, Scales]]:
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "data"))
    scales = Scales()
    made = LadderLeaf(Door(one_piece()), PAPER, lambda: tmp_path, Told(tmp_path / "out.csv"), scales.make)
    qtbot.addWidget(made)
    made.resize(1100, 600)
    made.show()
    yield made, scales
    made.leave()


def type_it(qtbot: QtBot, leaf: LadderLeaf, text: str) -> None:
    leaf.varied.selectAll()
    qtbot.keyClicks(leaf.varied, text)
    qtbot.keyClick(leaf.varied, Qt.Key.Key_Return)


def test_steps_come_one_by_one_and_the_least_is_named(
    qtbot: QtBot, leaf: tuple[LadderLeaf, Scales], tmp_path: Path
) -> None:
    made, scales = leaf
    type_it(qtbot, made, "plate.thickness=6,4,5")
    assert made.busy
    assert made.said.sentence == "0 of 3 steps judged."
    scales.let.release()
    qtbot.waitUntil(lambda: made.table.rowCount() == 1)
    assert made.said.sentence == "1 of 3 steps judged."
    scales.let.release(2)
    qtbot.waitUntil(lambda: not made.busy)
    assert made.sentence.text().startswith("The least that passes: plate.thickness 5 mm")
    verdicts = [made.table.item(row, 1).text() for row in range(3)]  # type: ignore[union-attr]
    assert verdicts == ["FAIL", "PASS  < least", "PASS"]
    assert not made.curve.picture.isNull()
    assert threading.get_ident() not in scales.threads
    qtbot.mouseClick(made.out, Qt.MouseButton.LeftButton)
    rows = list(csv.reader((tmp_path / "out.csv").read_text(encoding="utf-8-sig").splitlines()))
    assert [row[:2] for row in rows[1:]] == [["4", "fail"], ["5", "pass"], ["6", "pass"]]


def test_stop_keeps_what_was_judged_and_run_goes_on(qtbot: QtBot, leaf: tuple[LadderLeaf, Scales]) -> None:
    made, scales = leaf
    type_it(qtbot, made, "plate.thickness=4,5,6")
    scales.let.release()
    qtbot.waitUntil(lambda: made.table.rowCount() == 1)
    qtbot.mouseClick(made.end, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not made.busy)
    assert made.said.sentence.endswith("Stopped; run goes on where it was.")
    assert made.start.isEnabled()
    scales.let.release(2)
    qtbot.mouseClick(made.start, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not made.busy)
    assert scales.asked == [4.0, 5.0, 6.0]


def test_what_cannot_be_varied_is_said(qtbot: QtBot, leaf: tuple[LadderLeaf, Scales]) -> None:
    made, _ = leaf
    type_it(qtbot, made, "plate.thicknes=3,4")
    assert made.said.is_trouble
    assert "did you mean plate.thickness?" in made.said.sentence
    assert not made.busy


def test_the_leaf_is_on_the_page(qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "data"))
    with window_shown(qtbot) as (window, _, _judge):
        window.door.open(one_piece())
        window.edges.turn_to([page.words for page in PAGES].index("Side by side"))
        page = window.beside
        qtbot.mouseClick(page.leaves.links[1], Qt.MouseButton.LeftButton)
        assert page.ladder.isVisible()
        assert not page.figures.isVisible()
        qtbot.mouseClick(page.leaves.links[0], Qt.MouseButton.LeftButton)
        assert not page.ladder.isVisible()


def test_an_inch_reader_sees_inches(qtbot: QtBot, leaf: tuple[LadderLeaf, Scales]) -> None:
    """5 mm are 0.1969 in; 50 N.m 36.9 lbf.ft; 1.25 kg 2.76 lb."""
    made, scales = leaf
    type_it(qtbot, made, "plate.thickness=5")
    scales.let.release()
    qtbot.waitUntil(lambda: not made.busy)
    made.set_inch(True)
    cells = [made.table.item(0, column).text() for column in range(5)]  # type: ignore[union-attr]
    assert (cells[0], cells[2], cells[4]) == ("0.1969 in", "36.9", "2.76")
    assert "plate.thickness 5 mm (0.197 in)" in made.sentence.text()
    made.set_inch(False)
    assert "0.197 in" not in made.sentence.text()


def test_what_was_found_about_the_file_stands_against_every_step(
    qtbot: QtBot, leaf: tuple[LadderLeaf, Scales]
) -> None:
    made, scales = leaf
    made._of_file = lambda: (found("key-unknown", "loads", key="ful_n", near=""),)
    type_it(qtbot, made, "plate.thickness=4,5")
    scales.let.release(2)
    qtbot.waitUntil(lambda: not made.busy)
    assert made.sentence.text().startswith("No step passes.")
    assert [made.table.item(row, 1).text() for row in range(2)] == ["FAIL", "NO VERDICT"]  # type: ignore[union-attr]
