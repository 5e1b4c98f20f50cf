"""One window worked for a long day, every deed chosen by a seeded die; what it does is what users do."""

from __future__ import annotations

import random
import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Final

from PySide6.QtCore import QCoreApplication, QEvent

from app.editing.openings import move_opening, resize_hole
from app.editing.outline import move_corner
from app.files.settings import Settings
from app.window.application import application
from app.window.judge import Judge
from app.window.main_window import MainWindow
from app.window.selection import Pick
from app.worker.client import Worker
from geometry.bracket import Bracket
from geometry.bracket_file import read_bracket, save_bracket
from geometry.loads import StatedCouple
from geometry.plate import Hole
from tests.app.window.shown import Answers
from tests.app.window.stories.builds import whole

PATIENCE_S: Final = 300.0
PAGES: Final = ("Bracket", "Side by side", "Lesson", "Record")
_ONE_DAY: Final = (
    ("edit", 60), ("preview", 12), ("undo and redo", 8), ("select", 8), ("turn a page", 3), ("zoom", 3),
    ("save", 3), ("autosave", 2), ("judged answer", 2), ("open a file", 1), ("another look", 1),
)  # fmt: skip
"""Of a hundred deeds, about."""


class Day:
    """The whole window with a worker of its own; its files lie in the folder."""

    def __init__(self, folder: Path, seed: int, *, only: tuple[str, ...] = ()) -> None:
        self._die = random.Random(seed)
        self._program = application(["holdsquare"])
        self.worker = Worker()
        self._judge = Judge(worker=self.worker)
        self._answers = Answers()
        self.window = MainWindow(Settings(), self._judge, self._answers)
        self._inks = 0
        self.window.verdicts.judged.connect(self._count_ink)
        self.window.resize(1280, 720)
        self._files = self._written(folder)
        self.done: Counter[str] = Counter()
        self._ways: dict[str, Callable[[], None]] = {
            "edit": self._edit, "preview": self._preview, "undo and redo": self._undo, "select": self._select,
            "turn a page": self._turn, "zoom": self._zoom, "save": self._save, "autosave": self._autosave,
            "judged answer": self._judged, "open a file": self._open, "another look": self._look,
        }  # fmt: skip
        self._chances = [(name, chance) for name, chance in _ONE_DAY if not only or name in only]
        self.window.open_first(self._files[0])
        self.window.show()
        self.window.begin()

    def work(self, deeds: int) -> None:
        """Do so many things, one after the other."""
        names, chances = zip(*self._chances, strict=True)
        for name in self._die.choices(names, chances, k=deeds):
            self._ways[name]()
            self.done[name] += 1
            self._program.processEvents()

    def rest(self) -> None:
        """Let everything that was put off be done, and what was thrown away be gone."""
        until = time.monotonic() + 1.0
        while time.monotonic() < until:
            self._program.processEvents()
            QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
            time.sleep(0.01)

    def end(self) -> None:
        """Close the window as a user does who saves nothing."""
        self._answers.leaving = "leave"
        self.window.close()

    def wait_for_ink(self) -> None:
        """Wait for the verdict on the bracket as it stands; RuntimeError if none comes."""
        until = time.monotonic() + PATIENCE_S
        while self._judge.state != "up to date":
            if self._judge.state in ("stopped", "out of date") or time.monotonic() > until:
                raise RuntimeError(f"no verdict came: the judge is {self._judge.state}")
            self._program.processEvents()
            time.sleep(0.002)

    def _written(self, folder: Path) -> list[Path]:
        thick = whole().with_plate(whole().plates[0].but(thickness_mm=5.0))
        paths = []
        for name, bracket in (("one", whole()), ("other", thick)):
            paths.append(folder / f"{name}.bracket.json")
            save_bracket(paths[-1], bracket)
        return paths

    def _count_ink(self) -> None:
        self._inks += 1

    # -- deeds ------------------------------------------------------------------------------------------

    def _some_edit(self) -> Callable[[Bracket], Bracket]:
        die, door = self._die, self.window.door
        plate = door.bracket.plates[0]
        holes = [opening for opening in plate.openings if isinstance(opening, Hole)]
        kind = die.choice(("corner", "hole", "diameter", "couple", "torque", "title"))
        if kind == "corner":
            index = die.randrange(len(plate.outline))
            home = whole().plates[0].outline[index].at_mm
            to = (home[0] + die.uniform(-2, 2), home[1] + die.uniform(-2, 2))
            return lambda b: b.with_plate(move_corner(plate, index, to))
        if kind in ("hole", "diameter") and holes:
            hole = die.choice(holes)
            if kind == "diameter":
                return lambda b: resize_hole(b, plate.name, hole.name, die.choice((9.0, 9.5, 10.0)))
            at = {o.name: o.centre_mm for o in whole().plates[0].openings if isinstance(o, Hole)}[hole.name]
            by = (
                at[0] - hole.centre_mm[0] + die.uniform(-1, 1),
                at[1] - hole.centre_mm[1] + die.uniform(-1, 1),
            )
            return lambda b: move_opening(b, plate.name, hole.name, by)
        if kind == "couple":
            couple = StatedCouple(couple_nm=die.uniform(8, 14))
            return lambda b: b.but(loads=b.loads.but(couple=couple))
        if kind == "torque":
            place, share = die.randrange(len(door.bracket.bolts)), die.uniform(0.9, 1.1)
            bolts = list(door.bracket.bolts)
            bolts[place] = bolts[place].but(tightening_nm=share * 20.0)
            return lambda b: b.but(bolts=tuple(bolts))
        return lambda b: b.but(title=f"title {die.randrange(1000)}")

    def _edit(self) -> None:
        self.window.door.attempt("edit", self._some_edit())

    def _preview(self) -> None:
        for _ in range(5):
            self.window.door.preview(self._some_edit())
            self._program.processEvents()
        if self._die.random() < 0.5:
            self.window.door.keep_preview("drag")
        else:
            self.window.door.drop_preview()

    def _undo(self) -> None:
        steps = self._die.randrange(1, 8)
        for _ in range(steps):
            self.window.door.undo()
            self._program.processEvents()
        for _ in range(self._die.randrange(steps + 1)):
            self.window.door.redo()

    def _select(self) -> None:
        bracket = self.window.door.bracket
        bolt = self._die.choice(bracket.bolts)
        plate = bracket.plates[0]
        pick = self._die.choice((None, Pick("bolt", bolt.name), Pick("plate", plate.name)))
        self.window.door.select(pick)

    def _turn(self) -> None:
        self.window.edges.turn_to(self._die.randrange(len(PAGES)))
        for _ in range(20):
            self._program.processEvents()
        if self._die.random() < 0.3:
            self.window.show_help()
            self._program.processEvents()
        self.window.edges.turn_to(0)

    def _zoom(self) -> None:
        self.window.page.flat.fit()
        self.window.page.views.swap()
        self._program.processEvents()
        self.window.page.views.swap()

    def _save(self) -> None:
        if not self.window.files.save():
            raise RuntimeError(f"not saved: {self.window.page.said.sentence}")
        path = self.window.files.path
        if path is None or read_bracket(path).bracket != self.window.door.bracket:
            raise RuntimeError("what was saved is not what lies on the sheet")

    def _autosave(self) -> None:
        self.window.keeper.keep()

    def _judged(self) -> None:
        self._edit()
        self._program.processEvents()
        self.wait_for_ink()

    def _open(self) -> None:
        if not self.window.files.open_path(self._die.choice(self._files)):
            raise RuntimeError(f"not opened: {self.window.page.said.sentence}")

    def _look(self) -> None:
        self.window.seeing.set_theme(self._die.choice(("paper", "slate")))
