"""Files in the window: nothing is lost, and whatever goes wrong is one sentence on the sheet."""

from __future__ import annotations

import os
import shutil
import time
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from app.files.autosave import Autosave, Recovered
from app.files.open_elsewhere import claim
from app.window.main_window import MainWindow
from app.window.starts import SAMPLES
from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket
from geometry.finding import Finding
from tests.app.example_results import example_results
from tests.app.report.test_attached import pdf_with
from tests.app.window.shown import Answers, window_shown


@pytest.fixture
def folder(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "data"))
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def sample(folder: Path) -> Path:
    return Path(shutil.copy(SAMPLES / "tallow_stub.bracket.json", folder / "stub.bracket.json"))


@pytest.fixture
def window(qtbot: QtBot, folder: Path) -> Iterator[tuple[MainWindow, Answers]]:
    with window_shown(qtbot) as (shown, answers, _):
        yield shown, answers


def retitle(window: MainWindow, title: str) -> None:
    assert window.door.attempt("give a title", lambda bracket: bracket.but(title=title))


def test_title_says_the_name_and_whether_it_is_changed(
    window: tuple[MainWindow, Answers], sample: Path
) -> None:
    shown, _ = window
    assert shown.windowTitle() == "untitled bracket"
    assert shown.files.open_path(sample)
    assert shown.windowTitle() == "stub"
    retitle(shown, "other")
    assert shown.windowTitle() == "stub, changed"
    assert shown.files.save()
    assert shown.windowTitle() == "stub"
    kept = read_bracket(sample).bracket
    assert kept is not None
    assert kept.title == "other"


def test_a_file_that_is_no_bracket_is_told_and_the_work_stays(
    window: tuple[MainWindow, Answers], folder: Path
) -> None:
    shown, answers = window
    retitle(shown, "mine")
    bad = folder / "bad.json"
    bad.write_text("{", encoding="utf-8")
    assert not shown.files.open_path(bad)
    assert "bad.json was not opened" in shown.page.said.sentence
    assert shown.door.bracket.title == "mine"
    assert answers.asked == []


def test_unsaved_work_is_asked_about_before_it_goes(
    window: tuple[MainWindow, Answers], sample: Path, folder: Path
) -> None:
    shown, answers = window
    retitle(shown, "mine")
    answers.leaving = "stay"
    assert not shown.files.open_path(sample)
    assert not shown.close()
    assert shown.door.bracket.title == "mine"
    answers.leaving, answers.save = "save", folder / "mine.bracket.json"
    assert shown.files.open_path(sample)
    assert (folder / "mine.bracket.json").is_file()
    assert shown.windowTitle() == "stub"


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_read_only_folder_is_one_sentence(window: tuple[MainWindow, Answers], folder: Path) -> None:
    shown, answers = window
    retitle(shown, "mine")
    (folder / "shut").mkdir(mode=0o500)
    answers.save = folder / "shut" / "mine.bracket.json"
    assert not shown.files.save()
    assert "Not saved:" in shown.page.said.sentence


def test_a_folder_that_went_away_is_one_sentence_and_loses_nothing(
    window: tuple[MainWindow, Answers], folder: Path
) -> None:
    shown, answers = window
    drive = folder / "drive"
    drive.mkdir()
    retitle(shown, "mine")
    answers.save = drive / "mine.bracket.json"
    assert shown.files.save()
    retitle(shown, "more")
    shutil.rmtree(drive)
    shown.files.look_at_disk()
    assert "no longer on the disk" in shown.page.said.sentence
    assert not shown.files.save()
    assert "Not saved:" in shown.page.said.sentence
    assert shown.windowTitle() == "mine, changed"
    assert shown.door.bracket.title == "more"


def test_a_full_disk_is_one_sentence_and_the_old_file_stays(
    window: tuple[MainWindow, Answers], sample: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shown, _ = window
    shown.files.open_path(sample)
    before = sample.read_bytes()
    retitle(shown, "mine")

    def full(handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    assert not shown.files.save()
    assert "No space left on device" in shown.page.said.sentence
    assert sample.read_bytes() == before
    shown.keeper.keep()
    assert "No space left on device" in shown.page.said.sentence
    assert shown.door.has_unsaved_work


def test_a_change_on_disk_is_told_once_and_asked_about_before_it_is_overwritten(
    window: tuple[MainWindow, Answers], sample: Path
) -> None:
    shown, answers = window
    shown.files.open_path(sample)
    sample.write_text(sample.read_text(encoding="utf-8").replace("stub", "snub"), encoding="utf-8")
    os.utime(sample, (time.time() + 5, time.time() + 5))
    shown.files.look_at_disk()
    assert "was changed on the disk" in shown.page.said.sentence
    shown.page.say("")
    shown.files.look_at_disk()
    assert shown.page.said.sentence == ""
    retitle(shown, "mine")
    assert not shown.files.save()
    assert "save over it?" in answers.asked[-1]
    assert "snub" in sample.read_text(encoding="utf-8")
    answers.agreed = True
    assert shown.files.save()
    assert "snub" not in sample.read_text(encoding="utf-8")


def test_a_file_open_in_another_window_is_read_only_until_saved_elsewhere(
    window: tuple[MainWindow, Answers], sample: Path, folder: Path
) -> None:
    shown, answers = window
    other = claim(sample)
    try:
        assert shown.files.open_path(sample)
        assert "open in another window" in shown.page.said.sentence
        assert not shown.door.attempt("give a title", lambda bracket: bracket.but(title="mine"))
        answers.save = sample
        assert not shown.files.save()
        answers.save = folder / "copy.bracket.json"
        assert shown.files.save()
        retitle(shown, "mine")
        assert shown.files.save()
    finally:
        other.let_go()


def test_recent_files_are_offered_newest_first(window: tuple[MainWindow, Answers], sample: Path) -> None:
    shown, _ = window
    second = Path(shutil.copy(sample, sample.with_name("second.bracket.json")))
    shown.files.open_path(sample)
    shown.files.open_path(second)
    assert [choice.words for choice in shown.files.recent_choices()] == ["second", "stub"]
    second.unlink()
    assert [choice.words for choice in shown.files.recent_choices()] == ["stub"]


def test_work_is_kept_aside_and_dropped_once_saved(
    window: tuple[MainWindow, Answers], sample: Path, folder: Path
) -> None:
    shown, _ = window
    shown.files.open_path(sample)
    recovery = folder / "data" / "recovery"
    shown.keeper.keep()
    assert not list(recovery.glob("*/work.bracket.json"))
    retitle(shown, "mine")
    shown.keeper.keep()
    (kept,) = recovery.glob("*/work.bracket.json")
    assert read_bracket(kept).bracket == shown.door.bracket
    shown.files.save()
    assert not list(recovery.glob("*/work.bracket.json"))


def test_work_a_crash_left_is_put_on_the_sheet_as_unsaved(qtbot: QtBot, folder: Path, sample: Path) -> None:
    crashed = Autosave()
    crashed.save(Bracket(title="half done"), sample)
    assert crashed._lock is not None
    crashed._lock.let_go()  # as the system does for a process that is killed
    with window_shown(qtbot) as (shown, _, _judge):
        shown.open_first(None)
        assert shown.door.bracket.title == "half done"
        assert shown.windowTitle() == "stub, changed"
        assert "save it to keep it" in shown.page.said.sentence
        assert len(list((folder / "data" / "recovery").glob("*/work.bracket.json"))) == 1
        assert shown.files.save()
        kept = read_bracket(sample).bracket
        assert kept is not None
        assert kept.title == "half done"


def test_the_first_start_shows_a_sample_and_the_next_the_last_file(
    window: tuple[MainWindow, Answers], sample: Path
) -> None:
    shown, answers = window
    shown.open_first(None)
    assert shown.windowTitle() == "marlpit_one_piece"
    assert shown.files.path is None
    shown.files.open_path(sample)
    shown.open_first(None)
    assert shown.files.path == sample
    assert answers.asked == []


def test_recovered_work_on_a_file_not_wholly_read_carries_its_findings(
    window: tuple[MainWindow, Answers], sample: Path
) -> None:
    shown, _ = window
    bracket = read_bracket(sample).bracket
    assert bracket is not None
    sample.write_text(sample.read_text(encoding="utf-8").replace("{", '{"welded_edges": [],', 1))
    about: list[tuple[Finding, ...]] = []
    shown.files.opened.connect(about.append)
    shown.files.put_recovered(Recovered(sample, datetime.now(tz=UTC), bracket, sample.parent))
    assert [finding.code for finding in about[0]] == ["key-unknown"]
    sample.unlink()
    shown.files.put_recovered(Recovered(sample, datetime.now(tz=UTC), bracket, sample.parent))
    assert about[1] == ()


def test_work_that_cannot_be_saved_is_kept_aside_at_once(
    window: tuple[MainWindow, Answers], folder: Path, sample: Path
) -> None:
    shown, _ = window
    assert shown.files.open_path(sample)
    retitle(shown, "not to be lost")
    sample.rename(folder / "away")
    sample.mkdir()
    assert not shown.files.save()
    assert "is a folder: give a file name" in shown.page.said.sentence
    (kept,) = (folder / "data").glob("recovery/*/work.bracket.json")
    assert read_bracket(kept).bracket == shown.door.bracket


def test_the_folder_the_program_was_started_in_may_go(
    window: tuple[MainWindow, Answers], folder: Path, sample: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shown, answers = window
    gone = folder / "gone"
    gone.mkdir()
    monkeypatch.chdir(gone)
    gone.rmdir()
    retitle(shown, "without a file")
    answers.save = folder / "mine.bracket.json"
    assert shown.files.save()
    monkeypatch.chdir(folder)
    assert shown.files.open_path(Path("stub.bracket.json"))
    monkeypatch.chdir("/")
    retitle(shown, "told by a short name")
    assert shown.files.save()
    kept = read_bracket(sample).bracket
    assert kept is not None
    assert kept.title == "told by a short name"


def test_what_could_not_be_read_is_not_saved_away_without_a_word(
    window: tuple[MainWindow, Answers], sample: Path
) -> None:
    """Saved and opened again, a file lost the key nobody knew, and with it what stood against a pass."""
    shown, answers = window
    text = sample.read_text("utf-8").replace('"loads": {', '"loads": {"ful_n": 900, ', 1)
    assert "ful_n" in text
    sample.write_text(text, "utf-8")
    assert shown.files.open_path(sample)
    retitle(shown, "other")
    assert not shown.files.save()
    assert sample.read_text("utf-8") == text
    assert "put right in the file" in shown.page.said.sentence
    (question,) = answers.asked
    assert "ful_n is not known there and was left out" in question
    answers.agreed = True
    assert shown.files.save()
    retitle(shown, "once more")
    assert shown.files.save()
    assert len(answers.asked) == 2
    assert not read_bracket(sample).findings


def test_recovered_work_on_a_bracket_out_of_a_report_is_held_to_what_was_found_about_it(
    qtbot: QtBot, folder: Path, sample: Path
) -> None:
    """The report is no file of the bracket's own, so that it cannot be read again: the findings are kept."""
    text = sample.read_text("utf-8").replace('"loads": {', '"loads": {"ful_n": 900, ', 1)
    report = folder / "theirs.pdf"
    report.write_bytes(pdf_with(("theirs.bracket.json", text.encode())))
    crashed = Autosave()
    with window_shown(qtbot) as (shown, _, _judge):
        assert shown.files.open_path(report)
        retitle(shown, "mine now")
        shown.keeper._autosave = crashed
        shown.keeper.keep()
        assert crashed._lock is not None
        crashed._lock.let_go()  # as the system does for a process that is killed
        shown.keeper._autosave = Autosave()
    report.unlink()
    with window_shown(qtbot) as (shown, answers, judge):
        shown.open_first(None)
        assert shown.door.bracket.title == "mine now"
        assert [finding.code for finding in shown.verdicts.file_findings] == ["key-unknown"]
        passing = replace(example_results("pass"), hash=shown.door.bracket.input_hash())
        judge.ink.emit(passing)
        assert shown.verdicts.results is not None
        assert shown.verdicts.results.verdict == "no verdict"
        answers.save = folder / "mine.bracket.json"
        assert not shown.files.save()
        assert "ful_n is not known there and was left out" in answers.asked[-1]
        # nor does a second crash lose them
        (note,) = (folder / "data").glob("recovery/*/findings.json")
        assert "key-unknown" in note.read_text("utf-8")
