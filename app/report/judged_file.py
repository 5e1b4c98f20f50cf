"""One bracket file and what became of it: read, analysed, or neither, with the sentence that says why."""

from __future__ import annotations

import os
import traceback
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from app.exit_codes import BAD_USAGE, NO_VERDICT, NOT_PASSED, PASS
from app.files.near_names import missing_file_sentence
from app.wording.fault_words import TRACE, fault_words, short
from app.wording.file_verdict import verdict_on_file
from solver.stage_clock import Progress

if TYPE_CHECKING:
    from pathlib import Path

    from geometry.bracket import Bracket
    from geometry.finding import Finding
    from geometry.loads import Limits
    from solver.results import Results, Verdict


_CODE_OF: Final[dict[Verdict, int]] = {
    "pass": PASS,
    "marginal": NOT_PASSED,
    "fail": NOT_PASSED,
    "no verdict": NO_VERDICT,
}


@dataclass(frozen=True)
class LimitsInForce:
    """Limits other than the file's own, and where they come from."""

    limits: Limits
    source: str


@dataclass(frozen=True)
class JudgedFile:
    """What became of one file."""

    file: str
    bracket: Bracket | None = None
    results: Results | None = None
    findings: tuple[Finding, ...] = ()
    """About the file and about the bracket in it, worst first."""
    file_findings: tuple[Finding, ...] = ()
    """Those about the file alone, which the analysis knows nothing of."""
    trouble: str = ""
    """Why there are no results, in a sentence; empty if there are."""
    exit_code: int = NO_VERDICT
    limits: LimitsInForce | None = None
    """Limits it was judged under in place of the file's own."""
    pencil: bool = False
    """Whether refinement was left out on request."""

    @property
    def verdict(self) -> Verdict:
        """Return the verdict that may be written: fail before no verdict before marginal before pass."""
        return verdict_on_file(self.results, self.file_findings, pencil=self.pencil)

    @property
    def whole_trouble(self) -> str:
        """Return `trouble` with the gravest finding about the file, where no list of findings follows it."""
        if self.exit_code != BAD_USAGE or not self.file_findings:
            return self.trouble
        from geometry.finding import worst_first
        from geometry.finding_words import sentence

        return f"{self.trouble.rstrip('.')}: {sentence(worst_first(self.file_findings)[0])}"


def judge_file(
    path: Path, *, limits: LimitsInForce | None = None, quick: bool = False, progress: Progress | None = None
) -> JudgedFile:
    """Return what becomes of one file. Nothing but a key press (KeyboardInterrupt) is raised."""
    name = str(path)
    try:
        return judge_bracket(replace(read_file(path), limits=limits, pencil=quick), progress=progress)
    except MemoryError:
        sentence = f"{name}: this machine has too little memory to analyse it, so there is no verdict."
        return JudgedFile(name, trouble=sentence, limits=limits, pencil=quick)
    except Exception as fault:  # noqa: BLE001 - whatever breaks, a file that could not be judged must say so
        if os.environ.get("HOLDSQUARE_TRACE") == "1":
            traceback.print_exc()
        sentence = f"{name}: {fault_words(fault, 'the program', TRACE)}"
        return JudgedFile(name, trouble=sentence, limits=limits, pencil=quick)


def read_file(path: Path) -> JudgedFile:
    """Return one file read and not yet judged; with `trouble` if it cannot be."""
    from app.report.attached import read_any
    from geometry.finding import worst_first

    name = str(path)
    missing = missing_file_sentence(path)
    if missing:
        return JudgedFile(name, trouble=missing, exit_code=BAD_USAGE)
    reading = read_any(path)
    about_file = tuple(reading.findings)
    known = JudgedFile(
        name, bracket=reading.bracket, findings=worst_first(about_file), file_findings=about_file
    )
    if reading.bracket is None:
        trouble = f"{name} cannot be read as a bracket, so there is no verdict."
        return replace(known, trouble=trouble, exit_code=BAD_USAGE)
    if any(finding.severity == "stop" for finding in about_file):
        # what was left out of the bracket may be what would have failed
        trouble = f"{name} can be read only in part, so it was not analysed and there is no verdict."
        return replace(known, trouble=trouble, exit_code=BAD_USAGE)
    return known


def judge_bracket(known: JudgedFile, *, progress: Progress | None = None) -> JudgedFile:
    """Return a file that was read with its bracket judged; SolverError's words become its trouble."""
    if known.bracket is None or known.trouble:
        return known
    # late: the solver takes longest to start, and a file that cannot be read does not need it
    from solver.analyse import analyse
    from solver.errors import SolverError

    try:
        own = None if known.limits is None else known.limits.limits
        results = analyse(known.bracket, progress=progress, limits=own, refine=not known.pencil)
    except SolverError as error:
        return replace(known, trouble=f"{known.file}: {short(error)}; there is no verdict.")
    return as_judged(known, results)


def as_judged(known: JudgedFile, results: Results | None, trouble: str = "") -> JudgedFile:
    """Return a file that was read with what was found about its bracket; `trouble` says why nothing was."""
    from geometry.finding import worst_first

    if results is None:
        return replace(known, trouble=trouble)
    findings = worst_first(known.file_findings + tuple(results.findings))
    judged = replace(known, results=results, findings=findings)
    return replace(judged, exit_code=_CODE_OF[judged.verdict])
