"""A small share of `python3 tests faults` and `python3 tests long-day`, and that both can fail."""

from __future__ import annotations

import os
import random
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

from geometry import bracket_file
from tests.app.files.killed import needs_fork
from tests.faults import clocks, exports, kills, workers
from tests.faults.day import Day
from tests.faults.disks import POOR
from tests.faults.long_day import Taken, grown
from tests.faults.written import Written, all_written

ROOT = Path(__file__).resolve().parents[2]
_WRITTEN = {one.name: one for one in all_written()}


def written(name: str) -> Written:
    return _WRITTEN[name]


@needs_fork
@pytest.mark.parametrize("name", ["save of a bracket", "entry of the register"])
def test_killed_at_random_old_or_new_stands_there(name: str) -> None:
    tried = kills.at_random(written(name), random.Random(7), 3)
    assert (tried.times, tried.wrong) == (3, [])


@needs_fork
@pytest.mark.parametrize("name", ["paper", "entry of the register"])
def test_killed_at_any_step_old_or_new_stands_there(name: str) -> None:
    tried = kills.at_every_step(written(name))
    assert tried.times > 10
    assert tried.wrong == []


@needs_fork
def test_a_file_written_where_it_stands_would_be_caught(monkeypatch: pytest.MonkeyPatch) -> None:
    """So would a file aside that nobody sweeps."""

    def in_place(target: Path, content: bytes, **_: object) -> None:
        with os.fdopen(os.open(target, os.O_WRONLY | os.O_CREAT | os.O_TRUNC), "wb") as stream:
            stream.write(content)

    monkeypatch.setattr(bracket_file, "replace_file", in_place)
    tried = kills.at_every_step(written("save of a bracket"))
    assert any("mine.bracket.json" in wrong for wrong in tried.wrong)
    with monkeypatch.context() as unswept:
        unswept.setattr("geometry.file_replacing.sweep", lambda _: None)
        unswept.setattr(kills, "sweep", lambda _: None)
        assert any("left lying" in wrong for wrong in kills.at_every_step(written("paper")).wrong)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes by name")
def test_poor_disks_are_told_and_lose_nothing() -> None:
    """In a process of its own, which gives up root's leave."""
    names = [p.name for p in POOR if p.name in ("file may only be read", "longest name there is")]
    done = subprocess.run(
        [sys.executable, "-m", "tests.faults.disks", *names, "a folder stands in the file's place"],
        cwd=ROOT, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr
    assert done.stdout.count("nothing lost") == 3


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes by name")
def test_exports_to_places_that_take_nothing(monkeypatch: pytest.MonkeyPatch, qapp: QApplication) -> None:
    # who runs the tests may be allowed to write what may only be read
    places = [place for place in exports.PLACES if place[0] != "the file may only be read"]
    monkeypatch.setattr(exports, "PLACES", places)
    for one in exports.tried():
        assert one.wrong == [], one.where


def test_a_mesh_too_fine_for_the_memory_is_refused_before_it_is_made() -> None:
    (one,) = workers.tried(("mesh too fine for the memory",))
    assert one.wrong == []
    assert "unknowns" in one.seen


def test_clocks_that_jump(tmp_path: Path) -> None:
    ways = ("autosave and recovery", "register", "all of the source")
    found = {one.where: one.wrong for one in clocks.tried(3, ways)}
    assert found == {way: [] for way in ways}


def test_a_short_day_does_what_a_long_one_does(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, qapp: QApplication
) -> None:
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "data"))
    day = Day(tmp_path, 5, only=("edit", "preview", "undo and redo", "select", "save", "autosave"))
    try:
        day.work(12)
    finally:
        day.end()
    assert sum(day.done.values()) == 12


def test_growth_is_told() -> None:
    flat = Taken(0, 0.0, 500.0, 50.0, 200.0, 20, 9, 3, 200_000, 300)
    steady = [flat] * 12
    assert grown(steady) == []
    fatter = [*steady[:-1], Taken(0, 0.0, 560.0, 50.0, 200.0, 20, 9, 3, 200_000, 300)]
    assert grown(fatter) == ["The window grew from 500 to 560 MB."]
    leaking = [Taken(0, 0.0, 500.0, 0.0, 200.0, 20 + i, 9, 3, 200_000, 300) for i in range(12)]
    assert grown(leaking) == ["There are more files: 31, and 27 before."]
