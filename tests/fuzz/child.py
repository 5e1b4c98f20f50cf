"""One process under test: tries cases of one kind, many of them, and tells its parent what became of each.

Run as `python -m tests.fuzz.child KIND SEED FIRST END FOLDER`. It tells in lines of JSON; a process that ends
before `done` died over the case whose number stands in FOLDER/number.
"""

from __future__ import annotations

import contextlib
import gc
import importlib
import json
import os
import shutil
import sys
import time
import traceback
from pathlib import Path
from random import Random
from typing import Any, Final, TextIO

os.environ.update({"OPENBLAS_NUM_THREADS": "1", "HOLDSQUARE_CORES": "1", "QT_QPA_PLATFORM": "offscreen"})

from tests.fuzz import watch
from tests.fuzz.kinds import KINDS, Kind
from tests.fuzz.reached import EVERY, Reached
from tests.pace import slower

_SLOW_S: Final = 60.0
_FEW: Final = 1
"""Files of the corpus that are tried first, where each takes seconds."""
_A_LINE: Final = 25


def dice_of(seed: int, kind: str, number: int) -> Random:
    """Return the random numbers of one case."""
    return Random(f"{seed}/{kind}/{number}")


class Trying:
    """Tries cases in one process."""

    def __init__(self, kind: Kind, folder: Path, tell: TextIO) -> None:
        self._kind, self._folder, self._tell = kind, folder, tell
        work = folder / "work"
        self.out = work / "out"
        self.out.mkdir(parents=True, exist_ok=True)
        os.environ["HOLDSQUARE_DATA"] = str(self.out)
        self._file = work / f"case{kind.suffix}"
        os.environ["MPLCONFIGDIR"] = str(folder / "mpl")
        self._watch = watch.Watch(work, folder / "mpl", kind.may)
        self.corpus: list[bytes] = [
            *kind.seeds(),
            *(p.read_bytes() for p in sorted((folder / "corpus").glob("*"))),
        ]
        importlib.import_module("matplotlib.font_manager")  # looks for fonts, once, by a process of its own
        self._reached = Reached()
        self._slower = slower()
        self._counts = {"read": 0, "refused": 0, "wrong": 0, "cpu_s": 0.0}

    def warm(self) -> None:
        """Have everything imported and the seeds' lines known."""
        slow = self._kind.cpu_s > _SLOW_S
        if self._kind.traced:
            self._reached.begin()
        for number, content in enumerate(self.corpus[: _FEW if slow else None]):
            self._file.write_bytes(content)
            with contextlib.suppress(Exception):  # told when a case of its own raises it
                self._kind.tried(self._file, self.out, number * 10)
            self._clear()
        self._reached.end()
        watch.limit_memory()

    def one(self, number: int, content: bytes) -> dict[str, Any] | None:
        """Try one case; return what is wrong, if anything is."""
        self._file.write_bytes(content)
        measured = number % EVERY == 0 and self._kind.traced
        lines = len(self._reached.lines)
        watch.forget_peak()
        began = time.process_time()
        watch.within_s(self._kind.cpu_s * self._slower * (8.0 if measured else 1.0))
        self._watch.seen.clear()
        self._watch.on = True
        if measured:
            self._reached.begin()
        wrong = self._tried(number)
        self._reached.end()
        self._watch.on = False
        watch.within_s(0.0)
        self._counts["cpu_s"] += time.process_time() - began
        wrong = wrong or self._against_rules()
        if wrong is not None:
            self._counts["wrong"] += 1
            self._clear()
        elif len(self._reached.lines) > lines and len(content) < 200_000:
            self.corpus.append(content)
            self._say({"new": number, "lines": len(self._reached.lines)})
            (self._folder / "corpus" / f"{number:08d}").write_bytes(content)
        return wrong

    def _tried(self, number: int) -> dict[str, Any] | None:
        try:
            outcome = self._kind.tried(self._file, self.out, number)
        except Exception as fault:  # noqa: BLE001 - whatever comes out is what is looked for
            return {"what": type(fault).__name__, "said": str(fault)[:600], "at": _place(fault),
                    "trace": "".join(traceback.format_exception(fault, limit=-14))[-4_000:]}  # fmt: skip
        self._counts[outcome] += 1
        return None

    def _against_rules(self) -> dict[str, Any] | None:
        if self._watch.seen:
            return {
                "what": "forbidden",
                "said": "; ".join(self._watch.seen[:4]),
                "at": self._watch.seen[0].split()[0],
            }
        peak = watch.peak_bytes()
        if peak > self._kind.most_bytes:
            gc.collect()
            return {"what": "memory", "said": f"{peak / 1e6:.0f} MB at the most", "at": ""}
        if self._kind.name == "command line":
            self._clear()
        left = sorted(p.name for p in self.out.iterdir() if p.name != "rig_columns.json")
        beside = {p.name for p in self._file.parent.iterdir()} - {"out", self._file.name}
        if left or beside:
            self._clear()
            return {"what": "left behind", "said": f"{left} {sorted(beside)}", "at": ""}
        return None

    def _clear(self) -> None:
        shutil.rmtree(self.out, ignore_errors=True)
        self.out.mkdir(exist_ok=True)

    def count(self, number: int) -> None:
        """Tell how far it is."""
        self._say({"at": number, **self._counts})
        self._counts = dict.fromkeys(self._counts, 0) | {"cpu_s": 0.0}

    def _say(self, told: dict[str, Any]) -> None:
        self._tell.write(json.dumps(told) + "\n")
        self._tell.flush()

    def failed(self, number: int, wrong: dict[str, Any]) -> None:
        """Tell what is wrong; the parent takes the case's file."""
        self._say({"failed": number, **wrong})


def _place(fault: BaseException) -> str:
    """Return the innermost place of the program's own."""
    frames = traceback.extract_tb(fault.__traceback__)
    own = [
        f
        for f in frames
        if any(f"/{part}/" in f.filename for part in ("app", "geometry", "solver"))
        and ".venv" not in f.filename
    ]
    last = (own or frames)[-1]
    if not own:
        return "".join(sign for sign in str(fault)[:40] if sign.isalpha() or sign == " ")
    return f"{'/'.join(Path(last.filename).parts[-2:])}:{last.name}"


def main(arguments: list[str]) -> int:
    """Try the cases from FIRST up to END."""
    name, seed, first, end, place = arguments
    kind, folder = KINDS[name], Path(place)
    (folder / "corpus").mkdir(exist_ok=True)
    tell = os.fdopen(os.dup(1), "w", encoding="utf-8")
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    trying = Trying(kind, folder, tell)
    trying.warm()
    with (
        (folder / "stack").open("w", encoding="utf-8") as stack,
        (folder / "number").open("w", encoding="ascii") as at,
    ):
        watch.arm(stack)
        for number in range(int(first), int(end)):
            os.pwrite(at.fileno(), f"{number:012d}".encode(), 0)
            content = kind.case(dice_of(int(seed), name, number), trying.corpus)
            wrong = trying.one(number, content)
            if wrong is not None:
                (folder / f"failed_{number}").write_bytes(content)
                trying.failed(number, wrong)
            if number % _A_LINE == _A_LINE - 1:
                trying.count(number)
    trying.count(int(end) - 1)
    tell.write('{"done": true}\n')
    tell.flush()
    os._exit(0)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
