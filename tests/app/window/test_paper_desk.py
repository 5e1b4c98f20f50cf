"""Paper and cutter's files written from the window."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from app.editing.outline_import import read_outline
from app.report.attached import read_any
from app.window.main_window import MainWindow
from app.window.report_writing import NO_INK
from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket
from geometry.flat_pattern import flat_pattern
from tests.app.report.reports import plain_results
from tests.app.window.shown import Answers, window_shown

SAMPLE = Path(__file__).parents[3] / "sample_brackets" / "marlpit_one_piece.bracket.json"


@pytest.fixture
def window(
    qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> Iterator[tuple[MainWindow, Answers]]:
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "data"))
    with window_shown(qtbot) as (shown, answers, _):
        bracket = read_bracket(SAMPLE).bracket
        assert bracket is not None
        shown.files.put(bracket, "marlpit")
        yield shown, answers


def said(window: MainWindow) -> list[str]:
    words: list[str] = []
    window.paper.told.connect(words.append)
    window.door.noted.connect(words.append)
    return words


@pytest.mark.parametrize("sheet", ["measuring", "template", "assembly"])
def test_a_sheet_is_written_where_the_user_says(
    window: tuple[MainWindow, Answers], tmp_path: Path, sheet: str
) -> None:
    shown, answers = window
    words = said(shown)
    answers.save = tmp_path / "out.pdf"
    shown.paper.write_sheet(sheet)
    assert answers.save.read_bytes().startswith(b"%PDF")
    assert answers.asked[-1] == f"page marlpit {sheet}.pdf"
    assert words == [f"Written to {answers.save}."]


def test_the_proof_card_waits_for_ink(window: tuple[MainWindow, Answers], tmp_path: Path) -> None:
    shown, answers = window
    words = said(shown)
    answers.save = tmp_path / "out.pdf"
    shown.paper.write_sheet("proof")
    assert not answers.save.exists()
    assert words == [
        "The verdict in ink is not there yet: wait for it, so that the paper says what was computed."
    ]


@pytest.mark.parametrize("kind", ["svg", "dxf", "older"])
def test_a_plate_is_written_for_the_cutter(
    window: tuple[MainWindow, Answers], tmp_path: Path, kind: str
) -> None:
    shown, answers = window
    plate = shown.door.bracket.plates[0]
    choices = [choice.argument for choice in shown.paper.cut_choices()]
    assert f"{kind} {plate.name}" in choices
    answers.save = tmp_path / ("plate.svg" if kind == "svg" else "plate.dxf")
    shown.paper.write_cut(f"{kind} {plate.name}")
    read = read_outline(answers.save, unit="mm")
    low_x, low_y, high_x, high_y = flat_pattern(plate).polygon.bounds
    assert read.size_mm("mm") == pytest.approx((high_x - low_x, high_y - low_y), abs=0.01)


def test_a_folder_that_is_not_there_is_said(window: tuple[MainWindow, Answers], tmp_path: Path) -> None:
    shown, answers = window
    words = said(shown)
    answers.save = tmp_path / "gone" / "out.pdf"
    shown.paper.write_sheet("template")
    assert len(words) == 1
    assert "cannot be written" in words[0]


def test_nothing_is_written_when_the_user_calls_it_off(window: tuple[MainWindow, Answers]) -> None:
    shown, answers = window
    words = said(shown)
    answers.save = None
    shown.paper.write_sheet("template")
    shown.paper.write_cut(shown.paper.cut_choices()[0].argument)
    assert words == []


def test_the_report_waits_for_ink_and_is_then_written_as_pdf_or_html(
    window: tuple[MainWindow, Answers], tmp_path: Path
) -> None:
    shown, answers = window
    words = said(shown)
    answers.save = tmp_path / "out.pdf"
    shown.paper.write_report()
    assert words == [NO_INK]
    assert not answers.save.exists()
    results = plain_results(shown.door.bracket)
    shown.verdicts._show(results, "ink")
    shown.paper.write_report()
    assert answers.asked[-1] == "report marlpit report.pdf"
    assert words[-1] == f"Written to {answers.save}."
    assert read_any(answers.save).bracket == shown.door.bracket
    answers.save = tmp_path / "out.html"
    shown.paper.write_report()
    assert "PASS" in answers.save.read_text()
    answers.save = tmp_path / "gone" / "out.pdf"
    shown.paper.write_report()
    assert "cannot be written" in words[-1]


def test_a_sheet_that_cannot_be_analysed_has_a_report_too(
    window: tuple[MainWindow, Answers], tmp_path: Path
) -> None:
    shown, answers = window
    shown.files.put(Bracket(), "blank")
    answers.save = tmp_path / "out.html"
    shown.paper.write_report()
    assert "there is no plate; draw one" in answers.save.read_text()


def test_a_report_of_what_was_read_in_part_carries_no_bracket(
    window: tuple[MainWindow, Answers], tmp_path: Path
) -> None:
    """Written anew without the key nobody knew it passed, though the report's own pages give no verdict."""
    shown, answers = window
    file, answers.save = tmp_path / "theirs.bracket.json", tmp_path / "out.pdf"
    file.write_text(SAMPLE.read_text("utf-8").replace('"loads": {', '"loads": {"ful_n": 900, ', 1), "utf-8")
    assert shown.files.open_path(file)
    shown.verdicts._show(plain_results(shown.door.bracket), "ink")
    shown.paper.write_report()
    reading = read_any(answers.save)
    assert reading.bracket is None
    assert [f.code for f in reading.findings] == ["pdf-without-bracket"]


def test_nothing_is_cut_or_built_by_a_part_of_a_file(
    window: tuple[MainWindow, Answers], tmp_path: Path
) -> None:
    """A hole without a diameter is left out, and a plate was cut without it."""
    shown, answers = window
    file, answers.save = tmp_path / "theirs.bracket.json", tmp_path / "out.dxf"
    data = json.loads(SAMPLE.read_text("utf-8"))
    hole = data["plates"][0]["openings"][0]
    del hole["diameter_mm"]
    file.write_text(json.dumps(data), "utf-8")
    assert shown.files.open_path(file)
    words = said(shown)
    shown.paper.write_cut(f"dxf {shown.door.bracket.plates[0].name}")
    shown.paper.write_sheet("template")
    assert not answers.save.exists()
    assert len(words) == 2
    assert all("read only in part, so nothing is cut" in one and "diameter_mm" in one for one in words)


def test_a_report_opened_gives_its_bracket_and_save_never_touches_the_report(
    window: tuple[MainWindow, Answers], tmp_path: Path
) -> None:
    shown, answers = window
    bracket = shown.door.bracket
    report = tmp_path / "theirs.pdf"
    shown.verdicts._show(plain_results(bracket), "ink")
    answers.save = report
    shown.paper.write_report()
    before = report.read_bytes()
    shown.files.put(Bracket(), "blank")
    told: list[str] = []
    shown.files.told.connect(told.append)
    assert shown.files.open_path(report)
    assert shown.door.bracket == bracket
    assert "the bracket that theirs.pdf carries" in told[-1]
    answers.save = tmp_path / "own.bracket.json"
    assert shown.files.save()
    assert read_bracket(answers.save).bracket == bracket
    assert report.read_bytes() == before
    report.write_bytes(before[:500])
    assert not shown.files.open_path(report)
    assert "cannot be taken apart" in told[-1]
