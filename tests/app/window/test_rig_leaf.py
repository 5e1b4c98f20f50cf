"""The leaf Rig log by real events: columns asked once, the couple taken over, a log followed live."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from app.window.leaf_asks import LeafAsks
from app.window.lesson_papers import FOR_CLASS
from app.window.main_window import PAGES, MainWindow
from app.window.rig.rig_leaf import RigLeaf
from geometry.loads import LoadCell, TorqueMeters
from tests.app.riglog.invented import CoupleModel, couple_log_text
from tests.app.window.shown import window_shown
from tests.brackets import one_piece

SAMPLES = Path(__file__).parents[3] / "sample_brackets"
LESSON = [page.words for page in PAGES].index("Lesson")


class Told(LeafAsks):
    """Names the file it was told."""

    path: Path | None = None

    def log_to_open(self, over: QWidget, folder: Path) -> Path | None:
        return self.path

    def where_to_put_lesson(self, over: QWidget, suggested: Path) -> Path | None:
        return None if self.path is None else self.path.with_suffix(suggested.suffix)


@pytest.fixture
def shown(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> Iterator[tuple[MainWindow, RigLeaf, Told]]:
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "data"))
    with window_shown(qtbot) as (window, _, _judge):
        window.door.open(one_piece())
        told = Told()
        window.lesson.desk.asks = told
        window.edges.turn_to(LESSON)
        qtbot.mouseClick(window.lesson.leaves.links[1], Qt.MouseButton.LeftButton)
        yield window, window.lesson.rig, told
        window.lesson.leave()


def opened(qtbot: QtBot, leaf: RigLeaf, told: Told, path: Path) -> None:
    told.path = path
    qtbot.mouseClick(leaf.open_link, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not leaf.busy)


def test_the_measured_couple_is_taken_over_with_its_source(
    qtbot: QtBot, shown: tuple[MainWindow, RigLeaf, Told], tmp_path: Path
) -> None:
    window, leaf, told = shown
    path = tmp_path / "rig.csv"
    lines = couple_log_text(CoupleModel(), 3).splitlines()
    # names that tell nothing
    first = next(k for k, line in enumerate(lines) if line[:1].isdigit() or line[:1] == "-")
    width = lines[first].count(",") + 1
    path.write_text("\n".join([",".join("abcdefgh"[:width]), *lines[first:]]), encoding="utf-8")
    opened(qtbot, leaf, told, path)
    assert leaf.asks_columns
    assert leaf.form.question.text().startswith("What do the columns")
    head = lines[first - 1].casefold().split(",")
    for letter, name in zip("abcdefgh", head, strict=False):
        role, unit = next(
            ((r, u) for r, u in (
                ("time", "s"), ("output", "N.m"), ("input", "N.m"), ("force", "N"), ("angle", "deg"),
            ) if r in name or (r == "force" and "cell" in name)),
            (None, ""),
        )  # fmt: skip
        if role is not None:
            box = leaf.form.roles[letter]
            box.setCurrentIndex(box.findData(role))
            qtbot.keyClicks(leaf.form.units[letter], unit)
    qtbot.mouseClick(leaf.form.done, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not leaf.busy)
    assert not leaf.asks_columns, leaf.form.question.text()
    assert "Peak couple 31" in leaf.headline.text()
    assert not leaf.picture.picture.isNull()
    qtbot.mouseClick(leaf.take_link, Qt.MouseButton.LeftButton)
    couple = window.door.bracket.loads.couple
    assert isinstance(couple, TorqueMeters | LoadCell)
    assert couple.value_nm == pytest.approx(31.0, abs=0.4)
    assert "rig.csv, line" in window.door.bracket.note
    assert window.door.steps.count() == 1
    # the next log with these columns is not asked about
    opened(qtbot, leaf, told, path)
    assert not leaf.asks_columns
    assert "Peak couple 31" in leaf.headline.text()


def test_the_gauges_arm_is_asked_once(qtbot: QtBot, shown: tuple[MainWindow, RigLeaf, Told]) -> None:
    _, leaf, told = shown
    opened(qtbot, leaf, told, SAMPLES / "marlpit_bracket_log.csv")
    assert leaf.asks_columns
    assert "gauge" in leaf.form.question.text()
    qtbot.keyClicks(leaf.form.gauge_arm, "400")
    qtbot.mouseClick(leaf.form.done, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not leaf.busy)
    assert not leaf.asks_columns
    assert "Stiffness" in leaf.headline.text()
    assert "no verdict in ink" in leaf.sentences.text()
    assert not leaf.take_link.isEnabled()
    opened(qtbot, leaf, told, SAMPLES / "marlpit_bracket_log.csv")
    assert not leaf.asks_columns


def test_a_growing_log_is_followed(
    qtbot: QtBot, shown: tuple[MainWindow, RigLeaf, Told], tmp_path: Path
) -> None:
    _, leaf, told = shown
    path = tmp_path / "live.csv"
    lines = (SAMPLES / "marlpit_couple_log.csv").read_text(encoding="utf-8").splitlines(keepends=True)
    path.write_text("".join(lines[: len(lines) // 2]), encoding="utf-8")
    opened(qtbot, leaf, told, path)
    before = len(leaf.answer.table.values) if leaf.answer is not None else 0
    assert before > 0
    qtbot.mouseClick(leaf.follow_link, Qt.MouseButton.LeftButton)
    with path.open("a", encoding="utf-8") as stream:
        stream.writelines(lines[len(lines) // 2 :])
    qtbot.waitUntil(lambda: leaf.answer is not None and len(leaf.answer.table.values) > before)
    qtbot.mouseClick(leaf.follow_link, Qt.MouseButton.LeftButton)
    assert leaf.said.sentence == "No longer followed."


def test_what_is_no_log_is_said(
    qtbot: QtBot, shown: tuple[MainWindow, RigLeaf, Told], tmp_path: Path
) -> None:
    _, leaf, told = shown
    path = tmp_path / "no.csv"
    path.write_bytes(b"\0\1\2\0")
    opened(qtbot, leaf, told, path)
    assert leaf.said.is_trouble
    assert "no text but a binary file" in leaf.said.sentence


def test_a_hand_out_waits_for_ink(shown: tuple[MainWindow, RigLeaf, Told]) -> None:
    window, _, _ = shown
    window.lesson.desk.write(FOR_CLASS[0].ending)
    assert window.lesson.said.sentence.startswith("The verdict in ink is not there yet")


def test_an_inch_reader_is_told_the_couple_in_pounds_too(
    qtbot: QtBot, shown: tuple[MainWindow, RigLeaf, Told]
) -> None:
    window, leaf, told = shown
    opened(qtbot, leaf, told, SAMPLES / "marlpit_couple_log.csv")
    assert "lbf.ft" not in leaf.headline.text()
    window.seeing.set_units("inch")
    assert "Peak couple 31 N.m (22.9 lbf.ft)" in leaf.headline.text()


def test_an_arm_is_typed_in_mm_or_with_its_unit(shown: tuple[MainWindow, RigLeaf, Told]) -> None:
    _, leaf, _ = shown
    form = leaf.form
    for typed, arm in (("400", 400.0), ("16 in", 406.4), ("0,4 m", 400.0), ("far", 0.0), ("", None)):
        form.gauge_arm.setText(typed)
        assert form.words().gauge_arm_mm == arm
    form.arm.setText("10 in")
    assert form.words().columns["arm"] == "254"
