"""One bracket the whole way: written, read, looked at, cut, meshed, solved, judged, told; and what is wrong.

Glossary
--------
problem   a sentence about something that must never be, whatever the bracket
ended     the verdict's word, or `sentence` where one clear sentence took its place
"""

from __future__ import annotations

import os
import re
import time
import traceback
import warnings
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final

import numpy as np

from app.cli.mesh_file import write_mesh
from app.cli.page import Page
from app.cli.report_json import json_text
from app.cli.report_text import write_report
from app.cutting.cut_file import CutFileError, cut_content
from app.report.judged_file import JudgedFile, as_judged, read_file
from geometry.bracket import Bracket
from geometry.bracket_file import save_bracket
from geometry.finding import Finding
from geometry.finding_words import sentence
from geometry.findings import findings_of
from geometry.placing import place_bolts
from solver.analyse import Judged, judge
from solver.errors import SolverError
from solver.kept_plates import KeptPlates
from tests.sound.invariants import problems_of
from tests.sound.mirror import mirror_problems
from tests.sound.scaling import scaling_problems

NO_FIGURE: Final = re.compile(r"(?<![A-Za-z])(nan|inf|infinity|-inf|None)(?![A-Za-z])")
"""Printed in place of a figure."""
_PLACEHOLDER: Final = re.compile(r"\{[a-z_]+(:[^}]*)?\}|<[a-z_.]+ object at ")
Trouble = Callable[[str], None]


@dataclass(frozen=True)
class Asked:
    """How far a bracket goes."""

    refined: bool = False
    mirrored: bool = False
    """Whether its mirror image is solved too."""
    scaled: bool = False
    """Whether the quick path is asked at what it holds to."""
    paper: bool = False
    """Whether its report is made as PDF."""
    mesh_file: bool = False


def asked_of(number: int) -> Asked:
    """Return how far a bracket of a trial goes: one in five refined, one in twenty as PDF, and so on."""
    return Asked(
        refined=number % 5 == 0,
        mirrored=number % 10 == 3,
        scaled=number % 4 == 1,
        paper=number % 40 in (5, 31),
        mesh_file=number % 16 == 2,
    )


@dataclass
class Outcome:
    """What became of one bracket."""

    ended: str = "nothing"
    would_be: str = ""
    """The verdict that the pencil's figures would have been, had they been ink."""
    problems: list[str] = field(default_factory=list)
    said: str = ""
    """The gravest reason, or the sentence."""
    unknowns: int = 0
    seconds: float = 0.0
    """Of the processor."""
    findings: tuple[str, ...] = ()
    """Codes that bar a verdict."""
    steps: tuple[str, ...] = ()
    """What was looked at beside the way itself."""


def whole_way(bracket: Bracket, asked: Asked) -> Outcome:
    """Return what becomes of a bracket; whatever is raised becomes a problem that names its place."""
    outcome, at = Outcome(), time.process_time()
    with TemporaryDirectory() as folder, warnings.catch_warnings(record=True) as warned:
        warnings.simplefilter("always")
        try:
            _go(bracket, asked, Path(folder), outcome)
        except Exception as fault:  # noqa: BLE001 - whatever breaks is what is looked for
            outcome.ended = "traceback"
            outcome.problems.append(_signature(fault))
    outcome.problems += sorted({f"{w.category.__name__}: {w.message}" for w in warned if _grave(w)})
    outcome.seconds = round(time.process_time() - at, 2)
    return outcome


def _go(bracket: Bracket, asked: Asked, folder: Path, outcome: Outcome) -> None:
    trouble = outcome.problems.append
    path = folder / "sound.bracket.json"
    save_bracket(path, bracket)
    known = read_file(path)
    if known.bracket != bracket:
        trouble("what was read is not what was written" + (f": {known.trouble}" if known.trouble else ""))
    findings = findings_of(bracket)
    _sound_sentences(findings, trouble)
    outcome.findings = tuple(sorted({f.code for f in findings if f.bars_verdict}))
    _placed(bracket, trouble)
    _cut(bracket, trouble)
    kept = KeptPlates()
    try:
        judged = judge(bracket, refine=asked.refined, kept=kept)
    except SolverError as fault:
        outcome.ended, outcome.said = "sentence", str(fault)
        if not _clear(outcome.said):
            trouble(f"no clear sentence: {outcome.said!r}")
        _told(replace(known, trouble=outcome.said, pencil=not asked.refined), trouble)
        return
    results = judged.results
    outcome.ended = results.verdict
    outcome.said = results.reasons[0] if results.reasons else ""
    outcome.unknowns = max(results.accuracy.unknowns, default=0)
    found, outcome.would_be = problems_of(bracket, judged, refined=asked.refined)
    outcome.problems += found
    done = as_judged(replace(known, pencil=not asked.refined), results)
    _told(done, trouble)
    if asked.mesh_file:
        write_mesh(folder / "mesh.vtu", results)
    if asked.paper:
        outcome.steps += ("paper",)
        _printed(done, trouble)
    if judged.solved is not None:
        _solved_otherwise(bracket, judged, asked, kept, outcome)


def _solved_otherwise(
    bracket: Bracket, judged: Judged, asked: Asked, kept: KeptPlates, outcome: Outcome
) -> None:
    if asked.scaled:
        outcome.steps += ("scaled",)
        outcome.problems += scaling_problems(bracket, judged)
    if asked.mirrored:
        outcome.steps += ("mirrored",)
        outcome.problems += mirror_problems(bracket, kept)


def _placed(bracket: Bracket, trouble: Trouble) -> None:
    for place in place_bolts(bracket):
        if not all(np.isfinite(v).all() for v in (place.mating_mm, place.axis, place.frame, place.gap_mm)):
            trouble(f"bolt {place.bolt} has no place in numbers")


def _cut(bracket: Bracket, trouble: Trouble) -> None:
    for plate in bracket.plates:
        for ending in (".dxf", ".svg"):
            try:
                content = cut_content(plate, ending)
            except CutFileError as fault:
                if not _clear(str(fault)):
                    trouble(f"no clear sentence: {fault!s}")
                continue
            # The end of every number is where a letter or sign of another follows.
            if re.search(rb"(?<![A-Za-z])(nan|inf)(?![A-Za-z])", content):
                trouble(f"the cut file {ending} of {plate.name} holds what is no number")


def _told(judged: JudgedFile, trouble: Trouble) -> None:
    """Look at all that is printed, in millimetres and in inches."""
    for units in ("mm", "inch"):
        page = Page(width=100, terminal=False, ascii_only=True)
        write_report(page, judged, units)  # type: ignore[arg-type]
        _sound_text(page.text, f"the printed table ({units})", trouble)
        _sound_text(json_text([judged], units).replace("null", ""), f"the JSON ({units})", trouble)  # type: ignore[arg-type]


def _printed(judged: JudgedFile, trouble: Trouble) -> None:
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    from io import BytesIO

    from pypdf import PdfReader

    from app.report.making import job_of
    from app.report.report_file import report_html, report_pdf

    job = job_of(judged, file="sound.bracket.json")
    pages = PdfReader(BytesIO(report_pdf(job))).pages
    _sound_text("\n".join(page.extract_text() for page in pages), "the PDF report", trouble)
    html = re.sub(r"<(style|svg|script).*?</\1>", "", report_html(job).decode(), flags=re.DOTALL)
    _sound_text(re.sub(r"<[^>]*>", " ", html), "the HTML report", trouble)


def _sound_text(text: str, where: str, trouble: Trouble) -> None:
    for pattern in (NO_FIGURE, _PLACEHOLDER):
        found = pattern.search(text)
        if found:
            line = text[max(0, found.start() - 60) : found.end() + 30].replace("\n", " ")
            trouble(f"{where} prints {found.group()!r}: ...{line}...")


def _sound_sentences(findings: tuple[Finding, ...], trouble: Trouble) -> None:
    for finding in findings:
        words = sentence(finding)
        _sound_text(words, f"finding {finding.code}", trouble)
        if not _clear(words):
            trouble(f"finding {finding.code} has no clear sentence: {words!r}")


def _clear(words: str) -> bool:
    return 12 <= len(words.strip()) <= 700 and "Traceback" not in words


def _grave(warned: warnings.WarningMessage) -> bool:
    return issubclass(warned.category, RuntimeWarning | UserWarning | np.exceptions.ComplexWarning)


def _signature(fault: Exception) -> str:
    """Return the kind of a fault and its last place in the program, by which it is known again."""
    frames = [f for f in _frames(fault) if "site-packages" not in f[0]]
    where = frames[-1] if frames else ("?", 0, "?")
    text = " ".join(str(fault).split())[:200]
    return f"{type(fault).__name__} in {where[0]}, {where[2]}: {text}"


def _frames(fault: Exception) -> Iterator[tuple[str, int, str]]:
    for frame in traceback.extract_tb(fault.__traceback__):
        yield "/".join(Path(frame.filename).parts[-2:]), frame.lineno or 0, frame.name


def kind_of(problem: str) -> str:
    """Return what two problems of one kind have in common: their words without figures and names."""
    return re.sub(r"[-+]?\d[\d.e+-]*", "#", problem)[:110]


def plain_row(outcome: Outcome) -> dict[str, Any]:
    """Return an outcome as a row of the trial's file."""
    return dict(vars(outcome))
