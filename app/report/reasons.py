"""Why the verdict on a file is what it is: the program's own reasons before the analysis's. No Qt."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.wording.verdict_words import verdict_in_ink
from geometry.finding_words import sentence

if TYPE_CHECKING:
    from app.report.judged_file import JudgedFile
    from solver.results import Results


def reasons(judged: JudgedFile) -> tuple[str, ...]:
    """Return the reasons of the verdict that may be written, the program's own before the analysis's."""
    first: tuple[str, ...] = ()
    if judged.trouble:
        first = (judged.trouble,)
    elif judged.results is not None and judged.verdict == judged.results.verdict:
        first = ()
    elif judged.pencil:
        first = ("The figures are not refined (--quick): they are in pencil, and pencil carries no verdict.",)
    elif judged.results is not None:
        first = (_why_not(judged, judged.results),)
    about_file: tuple[str, ...] = ()
    if judged.verdict == "no verdict":
        about_file = tuple(sentence(f) for f in judged.file_findings if f.bars_verdict)
    return first + about_file + (judged.results.reasons if judged.results is not None else ())


def _why_not(judged: JudgedFile, results: Results) -> str:
    if verdict_in_ink(results) != results.verdict:
        return "The figures could not be refined, and unrefined figures carry no verdict."
    if judged.verdict == "marginal":
        return "The file breaks a rule: see the findings."
    return "Findings about the file touch what the analysis rests on."
