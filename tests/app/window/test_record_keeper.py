"""A record kept aside while it is filled in: a kill loses nothing; what was saved is not offered again."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from app.record.record_autosave import RecordAutosave
from app.record.record_file import read_record, save_record
from app.window.main_window import PAGES, MainWindow
from geometry.bracket_file import save_bracket
from tests.app.record.examples import locked_bracket, settled_record
from tests.app.window.shown import window_shown

RECORD = [page.words for page in PAGES].index("Record")
ROOT = Path(__file__).resolve().parents[3]

_WINDOW = """
import sys
from pathlib import Path
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from app.files.settings import Settings
from app.window.application import application
from app.window.main_window import MainWindow
from app.window.still_judge import StillJudge
from tests.app.window.shown import StillInspector

program = application(["holdsquare"])
window = MainWindow(Settings(), StillJudge(), inspector=StillInspector())
window.page.mounted.painting.start = lambda: None
window.show()
window.edges.turn_to({page})
page = window.record
page.open_path(Path(sys.argv[1]))
page.turn_to_words("Check-list")
for _ in range(3):
    QTest.keyClick(page.check_list.lines, Qt.Key.Key_M)
    QTest.keyClick(page.check_list.lines, Qt.Key.Key_Down)
page.desk.change(lambda record: record.but(remarks="seen on the ramp"))
QTest.qWait(700)
print("filled", flush=True)
program.exec()
"""


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "data"))
    path = tmp_path / "theirs.bracket.json"
    save_bracket(path, locked_bracket())
    return path


def on_record(window: MainWindow) -> MainWindow:
    window.edges.turn_to(RECORD)
    return window


def left_behind(tmp_path: Path) -> list[Path]:
    return list((tmp_path / "data" / "recovery of records").glob("*/work.record.json"))


@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system kills otherwise")
def test_a_kill_while_a_record_is_filled_in_loses_nothing(qtbot: QtBot, file: Path, tmp_path: Path) -> None:
    child = subprocess.Popen(
        [sys.executable, "-c", _WINDOW.format(page=RECORD), str(file)],
        cwd=ROOT,
        env=os.environ | {"QT_QPA_PLATFORM": "offscreen"},
        stdout=subprocess.PIPE,
        text=True,
    )
    assert child.stdout is not None
    assert child.stdout.readline() == "filled\n"
    child.send_signal(signal.SIGKILL)
    child.stdout.close()
    assert child.wait(120) == -signal.SIGKILL
    with window_shown(qtbot) as (window, answers, _):
        window.begin()
        assert "turn to the page Record" in window.page.said.sentence
        page = on_record(window).record
        assert [item.state for item in page.desk.record.check_list[:4]] == ["met", "met", "met", "open"]
        assert page.desk.record.remarks == "seen on the ramp"
        assert page.desk.path == file
        assert "left when Holdsquare ended without saving" in page.said.sentence
        # it is kept on under this window's own name, and asked about before it goes
        assert len(left_behind(tmp_path)) == 1
        answers.leaving = "stay"
        window.close()
        assert window.isVisible()
        answers.save = tmp_path / "theirs.record.json"
        assert page.save()
        assert left_behind(tmp_path) == []
    with window_shown(qtbot) as (again, _, _judge):
        again.begin()
        assert "Record" not in again.page.said.sentence
        assert on_record(again).record.desk.path != file


def test_what_was_saved_before_the_crash_stands_under_what_was_not(qtbot: QtBot, file: Path) -> None:
    beside = file.with_name("elsewhere.record.json")
    save_record(beside, settled_record().but(remarks="saved"))
    crashed = RecordAutosave()
    crashed.save(settled_record().but(remarks="typed since"), file, beside)
    assert crashed._lock is not None
    crashed._lock.let_go()  # as the system does for a process that is killed
    with window_shown(qtbot) as (window, _, _judge):
        desk = on_record(window).record.desk
        assert (desk.record.remarks, desk.record_path, desk.has_unsaved_work) == ("typed since", beside, True)
        assert window.record.save()
    kept = read_record(beside).record
    assert kept is not None
    assert kept.remarks == "typed since"


def test_a_record_of_a_bracket_without_a_file_waits_for_that_bracket(
    qtbot: QtBot, file: Path, tmp_path: Path
) -> None:
    crashed = RecordAutosave()
    crashed.save(settled_record().but(remarks="of the sheet"), None, None)
    assert crashed._lock is not None
    crashed._lock.let_go()
    with window_shown(qtbot) as (window, _, _judge):
        desk = on_record(window).record.desk
        assert desk.record.remarks == ""
        window.edges.turn_to(0)
        window.files.put(locked_bracket(), "mine")
        on_record(window)
        assert desk.record.remarks == "of the sheet"
    # let go in the end, and so not kept any more
    assert left_behind(tmp_path) == []


def test_a_bracket_that_is_gone_is_told_and_the_record_stays(
    qtbot: QtBot, file: Path, tmp_path: Path
) -> None:
    crashed = RecordAutosave()
    crashed.save(settled_record(), file, None)
    assert crashed._lock is not None
    crashed._lock.let_go()
    file.unlink()
    with window_shown(qtbot) as (window, _, _judge):
        page = on_record(window).record
        assert f"its bracket {file} cannot be opened" in page.said.sentence
    assert len(left_behind(tmp_path)) == 1


def test_a_disk_that_takes_nothing_is_told_once(qtbot: QtBot, file: Path, tmp_path: Path) -> None:
    with window_shown(qtbot) as (window, _, _judge):
        page = on_record(window).record
        page.open_path(file)
        kept = tmp_path / "data" / "recovery of records"
        kept.rmdir()
        kept.write_text("in the way")
        page.desk.change(lambda r: r.but(remarks="one"))
        page.keeper.keep()
        assert "cannot be made" in page.said.sentence
        page.desk.change(lambda r: r.but(remarks="two"))
        page.keeper.keep()
        assert page.said.sentence == ""
        assert page.desk.record.remarks == "two"
