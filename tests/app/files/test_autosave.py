"""Work kept aside, and found again after a crash."""

from __future__ import annotations

import os
import random
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from typing import Final

import pytest

from app.files import autosave as module
from app.files.autosave import Autosave
from app.files.files_error import FilesError
from app.files.held_lock import HeldLock
from geometry import file_replacing
from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket, save_bracket
from geometry.file_replacing import previous_of
from geometry.finding import Finding
from tests.app.files.killed import killed_while, needs_fork
from tests.geometry.example_bracket import example_bracket


def crashed(folder: Path, bracket: Bracket, origin: Path | None = None) -> None:
    """Leave work behind as a window does that did not close."""
    window = Autosave(folder)
    window.save(bracket, origin)
    assert window._lock is not None
    window._lock.let_go()


def test_work_left_behind_is_found_with_its_origin(tmp_path: Path) -> None:
    origin = tmp_path / "mine.bracket.json"
    crashed(tmp_path, example_bracket(), origin)
    crashed(tmp_path, example_bracket().but(title="never saved"))
    found = {one.bracket.title: one for one in Autosave(tmp_path).recoverable()}
    assert found[example_bracket().title].path_of_origin == origin
    assert found[example_bracket().title].bracket == example_bracket()
    assert found["never saved"].path_of_origin is None
    now = datetime.now().astimezone()
    assert all(now - one.saved_at < timedelta(minutes=1) for one in found.values())
    assert "mine.bracket.json" in found[example_bracket().title].words
    assert "a bracket never saved, never saved" in found["never saved"].words


def test_work_of_a_window_that_is_open_is_not_offered(tmp_path: Path) -> None:
    window, other = Autosave(tmp_path), Autosave(tmp_path)
    window.save(example_bracket(), None)
    assert other.recoverable() == ()
    assert window.recoverable() == ()


def test_nothing_is_left_by_a_window_that_saved_or_closed(tmp_path: Path) -> None:
    window = Autosave(tmp_path)
    window.save(example_bracket(), None)
    window.forget()
    assert window._lock is not None
    window._lock.let_go()
    assert Autosave(tmp_path).recoverable() == ()
    window.save(example_bracket(), None)
    window.close()
    assert Autosave(tmp_path).recoverable() == ()
    assert list((tmp_path / "recovery").iterdir()) == []


def test_work_goes_on_after_forgetting(tmp_path: Path) -> None:
    window = Autosave(tmp_path)
    window.save(example_bracket(), tmp_path / "a.bracket.json")
    window.forget()
    window.save(example_bracket().but(title="later"), tmp_path / "b.bracket.json")
    assert window._lock is not None
    window._lock.let_go()
    (found,) = Autosave(tmp_path).recoverable()
    assert (found.bracket.title, found.path_of_origin) == ("later", tmp_path / "b.bracket.json")


def test_recovered_work_can_be_dropped_and_nothing_else(tmp_path: Path) -> None:
    crashed(tmp_path, example_bracket())
    window = Autosave(tmp_path)
    (found,) = window.recoverable()
    elsewhere = tmp_path / "precious"
    elsewhere.mkdir()
    with pytest.raises(FilesError, match="no work kept aside"):
        window.drop(module.Recovered(None, found.saved_at, found.bracket, elsewhere))
    window.drop(found)
    assert window.recoverable() == ()
    assert elsewhere.is_dir()


def test_spoilt_work_falls_back_to_the_version_before(tmp_path: Path) -> None:
    window = Autosave(tmp_path)
    window.save(example_bracket().but(title="first"), None)
    window.save(example_bracket().but(title="second"), None)
    assert window._own is not None
    assert window._lock is not None
    (window._own / "work.bracket.json").write_bytes(b"\x00" * 100)
    (window._own / "origin.json").write_bytes(b"{")
    window._lock.let_go()
    (found,) = Autosave(tmp_path).recoverable()
    assert found.bracket.title == "first"
    assert found.path_of_origin is None


def test_a_folder_that_vanishes_is_made_anew(tmp_path: Path) -> None:
    window = Autosave(tmp_path)
    window.save(example_bracket(), None)
    assert window._own is not None
    for path in window._own.iterdir():
        path.unlink()
    window._own.rmdir()
    window.save(example_bracket().but(title="again"), None)
    assert window._lock is not None
    window._lock.let_go()
    assert [one.bracket.title for one in Autosave(tmp_path).recoverable()] == ["again"]


@pytest.mark.parametrize("number", [28, 30, 5])
def test_a_disk_that_takes_nothing_is_told_and_loses_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    window = Autosave(tmp_path)
    window.save(example_bracket().but(title="kept"), None)

    def fail(*_args: object) -> None:
        raise OSError(number, os.strerror(number))

    with monkeypatch.context() as broken:
        broken.setattr(file_replacing.os, "fsync", fail)
        with pytest.raises(FilesError, match=os.strerror(number)):
            window.save(example_bracket().but(title="lost"), None)
    assert window._lock is not None
    window._lock.let_go()
    assert [one.bracket.title for one in Autosave(tmp_path).recoverable()] == ["kept"]


def test_a_data_folder_that_cannot_be_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "file").write_text("in the way")
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "file"))
    with pytest.raises(FilesError, match=r"cannot be made.*HOLDSQUARE_DATA"):
        Autosave().save(example_bracket(), None)


def test_the_data_folder_is_the_one_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "mine"))
    window = Autosave()
    window.save(example_bracket(), None)
    assert list((tmp_path / "mine" / "recovery").glob("*/work.bracket.json"))
    window.close()


@needs_fork
def test_work_survives_a_kill_at_any_moment(tmp_path: Path) -> None:
    chance = random.Random(3)
    bracket = example_bracket()
    for turn in range(20):
        folder = tmp_path / str(turn)
        window = Autosave(folder)
        killed_while(lambda number, w=window: w.save(bracket.but(title=f"step {number}"), None), chance)
        (found,) = Autosave(folder).recoverable()
        number = int(found.bracket.title.removeprefix("step "))
        assert number >= 1
        assert found.bracket == bracket.but(title=f"step {number}")


@needs_fork
def test_a_file_survives_a_kill_at_any_moment(tmp_path: Path) -> None:
    chance = random.Random(4)
    bracket = example_bracket()
    path = tmp_path / "mine.bracket.json"
    save_bracket(path, bracket.but(title="step 0"))
    reached = 0
    for _ in range(20):
        killed_while(lambda number: save_bracket(path, bracket.but(title=f"step {number}")), chance, most=4)
        for kept in (path, previous_of(path)):
            reading = read_bracket(kept)
            assert reading.findings == ()
            assert reading.bracket is not None
            number = int(reading.bracket.title.removeprefix("step "))
            assert reading.bracket == bracket.but(title=f"step {number}")
            reached = max(reached, number)
    assert reached > 2  # the child did save again and again


@needs_fork
def test_a_lock_goes_with_the_process_that_held_it(tmp_path: Path) -> None:
    path = tmp_path / "window.lock"
    held = []

    def hold(number: int) -> None:
        if number == 1:
            held.append(HeldLock.taken(path))
        elif number == 2:
            while True:
                pass

    killed_while(hold, random.Random(5))
    lock = HeldLock.taken(path)
    assert lock is not None
    assert HeldLock.taken(path) is None
    lock.let_go()
    lock.let_go()
    again = HeldLock.taken(path)
    assert again is not None
    again.let_go()


ABOUT: Final = (
    Finding("key-unknown", "doubt", "loads", {"key": "ful_n", "line": 3}),
    Finding("hole-outside", "rule", "plate foot, hole h1", {"out_mm": 1.5}),
)


def test_what_was_found_about_the_file_is_kept_with_the_work_on_it(tmp_path: Path) -> None:
    window = Autosave(tmp_path)
    window.save(example_bracket(), None, ABOUT)
    assert window._lock is not None
    window._lock.let_go()
    (left,) = Autosave(tmp_path).recoverable()
    assert left.findings == ABOUT
    # another file opened in the same window begins anew
    again = Autosave(tmp_path / "other")
    again.save(example_bracket(), None, ABOUT)
    again.forget()
    again.save(example_bracket(), None)
    assert again._lock is not None
    again._lock.let_go()
    (left,) = Autosave(tmp_path / "other").recoverable()
    assert left.findings == ()


@pytest.mark.parametrize(
    "damage",
    [
        lambda text: text[:-20],
        lambda text: text.replace("doubt", "no worry"),
        lambda text: text.replace('"ful_n"', "[]"),
        lambda _text: '{"findings": []}',
    ],
)
def test_a_damaged_note_of_what_was_found_bars_a_verdict(
    tmp_path: Path, damage: Callable[[str], str]
) -> None:
    window = Autosave(tmp_path)
    window.save(example_bracket(), None, ABOUT)
    assert window._lock is not None
    window._lock.let_go()
    (note,) = tmp_path.glob("recovery/*/findings.json")
    note.write_text(damage(note.read_text("utf-8")), "utf-8")
    (left,) = Autosave(tmp_path).recoverable()
    assert left.bracket == example_bracket()
    (lost,) = (finding for finding in left.findings if finding.code == "kept-findings-lost")
    assert lost.bars_verdict
