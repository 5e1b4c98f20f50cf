"""`python3 tests mutants`: small faults put into the program, singly: do the tests notice? Never in CI."""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Literal

from tests.mutants.collected import Collected
from tests.mutants.faults import Fault, every_fault, sample
from tests.mutants.one_run import CANNOT, Run, load_libraries, run_fresh
from tests.mutants.reached import SLOWEST_S, ReachedLines, batches, program_texts, tests_for

COUNT, SEED = 150, 20261126
Asked = Literal["naming", "traced", "all"]
CAUGHT: Final = frozenset({"caught", "ended"})
EQUIVALENT: Final = Path(__file__).with_name("equivalent.txt")
SLACK_S: Final = 5.0
TIMES: Final = 4.0
"""A run may take so many times what it takes without a fault, and the slack more; then it is ended."""


@dataclass(frozen=True)
class Found:
    """What became of a fault: caught, ended (it hung or broke the run), survived, or not reached."""

    fault: Fault
    how: str
    by: str
    seconds: float


def main(arguments: Sequence[str]) -> int:
    """Try the faults that are not known yet, and print the table; return 1 if one survived unjudged."""
    asked = _parser().parse_args(arguments)
    folder = Path(asked.output).resolve()
    folder.mkdir(parents=True, exist_ok=True)
    load_libraries()
    texts = program_texts()
    if asked.only and not set(asked.only) <= set(texts):
        sys.stderr.write(f"No such file of the program: {', '.join(set(asked.only) - set(texts))}\n")
        return 64
    every = list(every_fault({f: t for f, t in texts.items() if f in asked.only or not asked.only}))
    faults = sample(every, asked.count, asked.seed)
    passes: tuple[Asked, ...] = ("naming", "traced") if asked.quick else ("naming", "traced", "all")
    collected = Collected(folder)
    try:
        trial = _Trial(collected, ReachedLines(collected, folder, asked.slowest), folder)
        found = _tried(faults, texts, trial, passes, again=asked.again)
    finally:
        collected.end()
    return _told(found, _judged(), sorted(trial.left_out), len(every))


class _Trial:
    """Puts in one fault after another."""

    def __init__(self, collected: Collected, reached: ReachedLines, folder: Path) -> None:
        self._collected, self._reached, self.folder = collected, reached, folder
        self.left_out: set[str] = set()

    def of(self, fault: Fault, text: str, asked: Asked) -> Found:
        """Put one fault into this text and run the tests that execute its lines, until one fails.

        Asked are the test files that import the module themselves, those traced so far, or all.
        """
        changed = fault.put_in(text)
        last = fault.line + text.encode()[fault.start : fault.end].count(b"\n")
        if asked == "naming":
            groups = self._reached.naming(fault.file)
        else:
            groups = iter([self._reached.all(fault.file, traced=asked == "traced")])
        used, count = 0.0, 0
        for group in groups:
            self.left_out |= {f"{r.file} (exit code {r.code})" for r in group if not r.sound}
            tests = tests_for(fault, last, group)
            count += len(tests)
            for batch in batches(tests):
                limit = SLACK_S + TIMES * sum(test.seconds for test in batch)
                run = self._run([t.file for t in batch], limit, fault, changed)
                used += run.seconds
                if run.code in (1, 2):
                    return Found(fault, "caught", str(run.said.get("failed", "")), used)
                if run.code != 0:
                    return Found(fault, "ended", f"exit code {run.code}", used)
        return Found(fault, "survived" if count else "not reached", f"{count} test files", used)

    def _run(self, files: Sequence[str], limit: float, fault: Fault, changed: str) -> Run:
        if fault.function:
            run = self._collected.run(files, limit, fault, changed)
            if run.code != CANNOT:
                return run
        answer = self.folder / f"fresh-{os.getpid()}.json"
        return run_fresh(files, answer, limit + SLACK_S, (fault.file, changed))


def _tried(
    faults: Sequence[Fault],
    texts: Mapping[str, str],
    trial: _Trial,
    passes: Sequence[Asked],
    *,
    again: bool,
) -> list[Found]:
    """Return what became of each, from `outcomes.jsonl` where it is known.

    All are tried on the likeliest tests before what is left is tried on all of them.
    """
    path = trial.folder / "outcomes.jsonl"
    known, judged = _read(path), _judged()
    found: dict[str, Found] = {}
    for fault in faults:
        row = known.get(fault.name)
        if row and (row["how"] in CAUGHT or not again or fault.kept_name in judged):
            found[fault.name] = Found(fault, str(row["how"]), str(row["by"]), float(str(row["seconds"])))
    for asked in passes:
        for number, fault in enumerate(faults):
            if fault.name in found:
                continue
            one = trial.of(fault, texts[fault.file], asked)
            how = f"{one.how} ({one.by}), {one.seconds:.1f} s"
            sys.stderr.write(f"{number}: {how}: {fault.scope}: {fault.name}\n")
            if one.how in CAUGHT or asked == passes[-1]:
                found[fault.name] = one
                row = {"name": fault.name, "how": one.how, "by": one.by, "seconds": one.seconds}
                with path.open("a", encoding="utf-8") as rows:
                    rows.write(json.dumps(row) + "\n")
    return [found[fault.name] for fault in faults]


def _told(found: Sequence[Found], judged: Mapping[str, str], left_out: Sequence[str], every: int) -> int:
    same = [f for f in found if f.how not in CAUGHT and f.fault.kept_name in judged]
    missed = [f for f in found if f.how not in CAUGHT and f.fault.kept_name not in judged]
    caught = [f for f in found if f.how in CAUGHT]
    hung = sum(f.how == "ended" for f in caught)
    rows = [f"| {'kind':20} | tried | caught | no fault | missed |", "|---|---|---|---|---|"]
    of = [Counter(f.fault.kind for f in some) for some in (found, caught, same, missed)]
    rows += [f"| {k:20} | {of[0][k]} | {of[1][k]} | {of[2][k]} | {of[3][k]} |" for k in sorted(of[0])]
    total = " | ".join(str(len(some)) for some in (found, caught, same, missed))
    rows += [f"| {'all':20} | {total} |", ""]
    counted = len(found) - len(same)
    share = len(caught) / counted if counted else 0.0
    rows += [
        f"{len(found)} of {every} faults tried; {len(same)} change no answer; {len(caught)} of the other"
        f" {counted} caught ({share:.1%}), {hung} of them by hanging or ending the run;"
        f" {sum(f.seconds for f in found):.0f} s of the processor"
    ]
    rows += [f"left out: {name}" for name in left_out]
    rows += [f"MISSED ({f.how}, {f.by}): {f.fault.scope}: {f.fault.name}" for f in missed]
    rows += [f"no fault: {f.fault.name}: {judged[f.fault.kept_name]}" for f in same]
    sys.stdout.write("\n".join(rows) + "\n")
    return 1 if missed else 0


def _judged() -> dict[str, str]:
    """Return the faults looked at and found to change no answer, with the reason."""
    lines = EQUIVALENT.read_text(encoding="utf-8").splitlines()
    pairs = [line.split(" # ", 1) for line in lines if " # " in line and not line.startswith("#")]
    return {name.strip(): reason.strip() for name, reason in pairs}


def _read(path: Path) -> dict[str, dict[str, object]]:
    if not path.exists():
        return {}
    rows = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines() if line]
    return {row["name"]: row for row in rows}


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python3 tests mutants", description=__doc__)
    parser.add_argument("--count", type=int, default=COUNT, help="faults (default %(default)s)")
    parser.add_argument("--seed", type=int, default=SEED, help="of the lots (default %(default)s)")
    parser.add_argument("--only", action="append", default=[], help="a file (solver/beam.py), or more")
    parser.add_argument("--again", action="store_true", help="try those again that were missed")
    parser.add_argument(
        "--quick", action="store_true", help="trace only test files that import a changed module themselves"
    )
    parser.add_argument(
        "--slowest",
        type=float,
        default=SLOWEST_S,
        help="seconds of the processor above which a test file is left out (default %(default)s)",
    )
    parser.add_argument("-o", "--output", default="mutants", help="folder that keeps what was found")
    return parser
