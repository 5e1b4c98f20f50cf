"""A clock that jumps by days, either way, in the middle of things: nothing waits for it, nothing is lost."""

from __future__ import annotations

import ast
import contextlib
import os
import random
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import datetime, timedelta, tzinfo
from pathlib import Path
from typing import Final
from unittest.mock import patch

from app.files import kept_work, open_elsewhere
from app.files.autosave import Autosave
from app.files.open_elsewhere import claim
from app.files.stamp import FileStamp, changed_on_disk
from app.ladder.kept_answers import KeptAnswers
from app.register import database
from app.register.database import Register
from app.worker.client import Worker
from app.worker.messages import Ink, Pencil, Progress
from geometry.bracket_file import save_bracket
from tests.app.register.entries import entry
from tests.app.worker.test_client import kind
from tests.app.worker.test_process import small
from tests.faults.tried import Tried
from tests.faults.workers import PATIENCE_S, hear
from tests.faults.written import bracket_of, number_of

ROOT: Final = Path(__file__).resolve().parents[2]
JUMPS: Final = 12
MOST_DAYS: Final = 40.0
WALL_CLOCK: Final = {"geometry/file_replacing.py"}
"""Where the wall's clock is asked how old a file is; everything else asks it only what to write down."""


class Clock:
    """The wall's clock as this process is told it, and as the files it writes are dated."""

    def __init__(self, die: random.Random) -> None:
        self._die, self.off_s = die, 0.0

    def jump(self) -> None:
        """Jump by days, forward or back."""
        self.off_s = 86_400.0 * self._die.uniform(-MOST_DAYS, MOST_DAYS)

    def date_files(self, folder: Path) -> None:
        """Date all files written since as the clock stands now."""
        now = time.time()
        for path in folder.rglob("*"):
            if path.is_file() and path.suffix != ".lock":
                os.utime(path, (now, now))


@contextlib.contextmanager
def jumping(die: random.Random) -> Iterator[Clock]:
    """Put a clock that jumps in place of the wall's."""
    clock, true, true_ns = Clock(die), time.time, time.time_ns

    class Shifted(datetime):
        @classmethod
        def now(cls, tz: tzinfo | None = None) -> Shifted:
            return super().now(tz) + timedelta(seconds=clock.off_s)

    with (
        patch.object(time, "time", lambda: true() + clock.off_s),
        patch.object(time, "time_ns", lambda: true_ns() + int(1e9 * clock.off_s)),
        patch.object(kept_work, "datetime", Shifted),
        patch.object(open_elsewhere, "datetime", Shifted),
        patch.object(database, "datetime", Shifted),
    ):
        yield clock


def tried(seed: int, names: tuple[str, ...] = ()) -> Iterator[Tried]:
    """Yield what came of a jumping clock in every place that keeps or waits, or in those named."""
    ways: tuple[tuple[str, Callable[[Tried, Clock, Path], None]], ...] = (
        ("autosave and recovery", _autosave),
        ("two windows that crashed, the later one dated earlier", _two_crashes),
        ("claim on an open file", _claims),
        ("file changed by others, dated as before", _stamp),
        ("register", _register),
        ("answers a ladder keeps", _ladder),
        ("analysis in the worker", _worker),
    )
    for name, way in ways:
        if names and name not in names:
            continue
        one = Tried("clock jumps", name)
        with tempfile.TemporaryDirectory() as folder, jumping(random.Random(seed)) as clock:
            begun = time.monotonic()
            way(one, clock, Path(folder))
            took = time.monotonic() - begun
            one.note(f"it took {took:.0f} s" if took > PATIENCE_S else "")
        yield one
    yield _nothing_waits_by_the_wall()


def _autosave(one: Tried, clock: Clock, folder: Path) -> None:
    for turn in range(JUMPS):
        window = Autosave(folder)
        for number in range(1, 5):
            clock.jump()
            window.save(bracket_of(number), None)
            clock.date_files(folder)
        _crash(window)
        found = Autosave(folder).recoverable()
        titles = [number_of(left.bracket.title) for left in found]
        one.note("" if titles == [4] else f"offered {titles}", f"turn {turn}")
        for left in found:
            Autosave(folder).drop(left)


def _two_crashes(one: Tried, clock: Clock, folder: Path) -> None:
    for turn in range(JUMPS):
        for number in (1, 2):
            clock.jump()
            window = Autosave(folder)
            window.save(bracket_of(number), None)
            clock.date_files(folder)
            _crash(window)
        offered = []
        while found := Autosave(folder).recoverable():
            offered.append(number_of(found[0].bracket.title))
            Autosave(folder).drop(found[0])
        one.note("" if sorted(offered) == [1, 2] else f"offered {offered}", f"turn {turn}")


def _crash(window: Autosave) -> None:
    lock = window._lock
    assert lock is not None
    lock.let_go()


def _claims(one: Tried, clock: Clock, folder: Path) -> None:
    path = folder / "mine.bracket.json"
    save_bracket(path, bracket_of(1))
    for turn in range(JUMPS):
        first = claim(path, folder)
        clock.jump()
        second = claim(path, folder)
        one.note("" if second.read_only and not first.read_only else "two windows may write", f"turn {turn}")
        first.let_go()
        clock.jump()
        third = claim(path, folder)
        one.note("" if not third.read_only else "the claim stays after its window", f"turn {turn}")
        third.let_go()


def _stamp(one: Tried, clock: Clock, folder: Path) -> None:
    path = folder / "mine.bracket.json"
    for turn in range(JUMPS):
        clock.jump()
        save_bracket(path, bracket_of(1))
        stamp = FileStamp.of(path)
        save_bracket(path, bracket_of(2))
        os.utime(path, ns=(stamp.changed_at_ns, stamp.changed_at_ns))
        change = changed_on_disk(path, stamp, thorough=True)
        one.note("" if change == "changed" else "it would be saved over", f"turn {turn}")


def _register(one: Tried, clock: Clock, folder: Path) -> None:
    register = Register(folder / "register.sqlite3")
    for number in range(JUMPS):
        clock.jump()
        register.add([entry(1, verdict="pass" if number % 2 else "fail")])
        newest = register.newest()[-1].entry
        wanted = entry(1, verdict="pass" if number % 2 else "fail")
        one.note("" if newest == wanted else "the newest entry is not the one added last", f"entry {number}")


def _ladder(one: Tried, clock: Clock, folder: Path) -> None:
    from tests.faults.written import all_written

    ladder = next(w for w in all_written() if w.name == "answers a ladder keeps")
    for number in range(JUMPS):
        clock.jump()
        ladder.write(folder, number)
        clock.date_files(folder)
        KeptAnswers(folder / "ladder").clear_old()
        one.note("" if ladder.newest(folder) == number else "an answer is gone", f"answer {number}")


def _worker(one: Tried, clock: Clock, _folder: Path) -> None:
    worker = Worker()
    try:
        for turn in range(3):
            worker.ask(small().but(rake_deg=float(turn)))
            for wanted in (Progress, Pencil, Ink):
                hear(worker, kind(wanted))
                clock.jump()
            one.note("", f"turn {turn}")
    finally:
        worker.close()


def _nothing_waits_by_the_wall() -> Tried:
    """Look through the program's source: nothing that waits asks the wall's clock."""
    one = Tried("clock jumps", "all of the source")
    for path in sorted(
        path for part in ("app", "solver", "geometry") for path in (ROOT / part).rglob("*.py")
    ):
        asks = _asks_the_wall(ast.parse(path.read_text(encoding="utf-8")))
        name = path.relative_to(ROOT).as_posix()
        one.note("time.time is asked" if asks and name not in WALL_CLOCK else "", name)
    return one


def _asks_the_wall(tree: ast.Module) -> bool:
    for node in ast.walk(tree):
        match node:
            case ast.Attribute(value=ast.Name(id="time"), attr="time" | "time_ns"):
                return True
            case ast.ImportFrom(module="time", names=names) if {n.name for n in names} & {"time", "time_ns"}:
                return True
    return False
