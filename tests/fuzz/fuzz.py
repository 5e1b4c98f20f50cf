"""`python3 tests fuzz`: hand strangers' files of every kind to the program. Long; never in CI."""

from __future__ import annotations

import argparse
import json
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

from tests.fuzz.samples import ROOT
from tests.fuzz.telling import Tally, read_tallies, table, write_tally

COUNT, SEED = 100_000, 20261126
_BATCHES: Final = 3
_LEAST_BATCH: Final = 40
_KEPT_ALIKE: Final = 4
_SILENT_S: Final = 300.0
"""By the clock; the processor's time is bounded within the process."""


def main(arguments: Sequence[str]) -> int:
    """Try the cases, or go on with a trial that was broken off; return 1 if anything was found."""
    asked = _parser().parse_args(arguments)
    if asked.again:
        from tests.fuzz.again import again

        return again(Path(asked.again), asked.kind, smaller=asked.smaller)
    from tests.fuzz.kinds import KINDS

    folder = Path(asked.output).absolute()
    folder.mkdir(parents=True, exist_ok=True)
    kinds = [kind for kind in KINDS.values() if asked.kind in ("", kind.name)]
    if not kinds:
        sys.stderr.write(f"There is no kind {asked.kind}; there are: {', '.join(KINDS)}.\n")
        return 64
    whole = sum(kind.share for kind in kinds)
    tallies = read_tallies(folder, asked.seed)
    trials = [
        _Trial(k.name, k.suffix, asked.seed, folder, tallies.get(k.name) or Tally(k.name, asked.seed),
               max(1, round(asked.count * k.share / whole)))
        for k in kinds
    ]  # fmt: skip
    while left := [trial for trial in trials if trial.left > 0]:
        # turn about, so that a trial broken off has tried every kind
        max(left, key=lambda trial: trial.left / trial.end).batch()
    told = table(read_tallies(folder, asked.seed).values())
    (folder / "table.md").write_text(told, encoding="utf-8")
    sys.stdout.write(told)
    return 1 if any(t.found for t in read_tallies(folder, asked.seed).values()) else 0


@dataclass
class _Trial:
    """All cases of one kind, process after process."""

    kind: str
    suffix: str
    seed: int
    folder: Path
    tally: Tally
    end: int
    alike: dict[str, int] = field(default_factory=dict)

    @property
    def left(self) -> int:
        return self.end - self.tally.cases

    @property
    def corpus(self) -> Path:
        return self.folder / "corpus" / self.kind.replace(" ", "_").replace(",", "")

    def batch(self) -> None:
        """Try the next cases, in a process of their own."""
        shelf = "/dev/shm" if os.access("/dev/shm", os.W_OK) else None
        upto = min(self.end, self.tally.cases + max(_LEAST_BATCH, self.end // _BATCHES))
        with tempfile.TemporaryDirectory(prefix="holdsquare_fuzz_", dir=shelf) as place:
            self._batch(Path(place), upto)
        write_tally(self.folder, self.tally)
        t = self.tally
        sys.stderr.write(
            f"{self.kind}: {t.cases} of {self.end}, {t.found} found, {t.lines} lines, {t.cpu_s:.0f} s\n"
        )

    def _batch(self, place: Path, end: int) -> None:
        if self.corpus.is_dir():
            shutil.copytree(self.corpus, place / "corpus")
        began = time.monotonic()
        command = [
            sys.executable,
            "-m",
            "tests.fuzz.child",
            self.kind,
            str(self.seed),
            str(self.tally.cases),
            str(end),
            str(place),
        ]
        process = subprocess.Popen(
            command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
        )
        done = False
        for told in _lines(process):
            done = done or "done" in told
            self._take(told, place)
        process.wait()
        if not done:
            self._died(place, process, end)
        else:
            self.tally.cases = end
        self.tally.seconds += time.monotonic() - began
        if (place / "corpus").is_dir():
            shutil.copytree(place / "corpus", self.corpus, dirs_exist_ok=True)

    def _take(self, told: dict[str, Any], place: Path) -> None:
        if "failed" in told:
            self._keep(told, place / f"failed_{told['failed']}")
        elif "new" in told:
            self.tally.lines = max(self.tally.lines, told["lines"])
        elif "at" in told:
            self.tally.cases = told["at"] + 1
            self.tally.read += told["read"]
            self.tally.refused += told["refused"]
            self.tally.cpu_s += told["cpu_s"]

    def _died(self, place: Path, process: subprocess.Popen[str], end: int) -> None:
        """Keep the case a process died over, and go on behind it."""
        try:
            number = int((place / "number").read_text(encoding="ascii"))
        except (OSError, ValueError):
            error = process.stderr.read() if process.stderr else ""
            raise SystemExit(f"{self.kind}: a process ended before its first case: {error[-2000:]}") from None
        stack = (place / "stack").read_text(encoding="utf-8", errors="replace")
        what = "hang" if process.returncode in (-27, -9) else "died"
        inner = next(
            (
                line.strip()
                for line in stack.splitlines()
                if f"{ROOT}/" in line and ".venv" not in line and "/tests/" not in line
            ),
            "",
        )
        error = process.stderr.read() if process.stderr else ""
        said = f"exit {process.returncode} {error[-700:]}".strip()
        told = {"failed": number, "what": what, "said": said, "at": inner[-90:], "trace": stack[-4_000:]}
        self._keep(told, place / "work" / f"case{self.suffix}")
        self.tally.cases = min(number + 1, end)

    def _keep(self, told: dict[str, Any], case: Path) -> None:
        alike = f"{told['what']} at {told['at']}"
        self.tally.add(alike)
        self.alike[alike] = self.alike.get(alike, 0) + 1
        if self.alike[alike] > _KEPT_ALIKE or not case.exists():
            return
        stem = f"{self.kind.replace(' ', '_').replace(',', '')}_{told['failed']}_{told['what']}"
        shelf = self.folder / "found"
        shelf.mkdir(exist_ok=True)
        shutil.copyfile(case, shelf / f"{stem}{self.suffix}")
        head = f"{self.kind}, seed {self.seed}, case {told['failed']}"
        words = "\n".join([head, alike, told["said"], "", told.get("trace", "")])
        (shelf / f"{stem}.txt").write_text(words, encoding="utf-8")
        sys.stderr.write(f"  found: {self.kind} {told['failed']}: {alike}: {told['said'][:160]}\n")


def _lines(process: subprocess.Popen[str]) -> Iterator[dict[str, Any]]:
    """Yield what a process tells; one that is silent for too long is ended."""
    import selectors

    assert process.stdout is not None
    with selectors.DefaultSelector() as ready:
        ready.register(process.stdout, selectors.EVENT_READ)
        while True:
            if not ready.select(_SILENT_S):
                process.kill()
                return
            line = process.stdout.readline()
            if not line:
                return
            yield json.loads(line)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python3 tests fuzz", description=__doc__)
    parser.add_argument("--count", type=int, default=COUNT, help="cases in all (default %(default)s)")
    parser.add_argument("--seed", type=int, default=SEED, help="of the random numbers (default %(default)s)")
    parser.add_argument("--kind", default="", help="one kind alone, such as 'SVG drawing'")
    parser.add_argument("-o", "--output", default="fuzz", help="folder that keeps what was found")
    parser.add_argument("--again", metavar="FILE", help="try one kept file again; its --kind has to be named")
    parser.add_argument(
        "--smaller", action="store_true", help="with --again: cut the file down to what matters"
    )
    return parser
