"""Everything that is computed for a record, in one go: for the command line, which may wait for it."""

from __future__ import annotations

from dataclasses import replace

from app.record.as_built import as_built
from app.record.comparison import Judgements, differs_under
from app.record.loosenings import loosenings_of
from app.record.profile import Profile, under
from app.record.record import Record
from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.findings import findings_of
from geometry.placing import place_bolts
from solver.analyse import analyse, analyse_in_turn, can_be_solved
from solver.errors import SolverError
from solver.kept_plates import KeptPlates
from solver.quick import quick_answer
from solver.results import QuickAnswer
from solver.solved import Solved
from solver.stage_clock import Progress


def judged_for(
    bracket: Bracket,
    record: Record,
    profile: Profile,
    *,
    file_findings: tuple[Finding, ...] = (),
    progress: Progress | None = None,
) -> Judgements:
    """Return every result a comparison rests on; what could not be computed is told in `trouble`."""
    found = Judgements(file_findings=file_findings)
    kept = KeptPlates()  # other limits and other measures of one plate leave the other plates as they are
    try:
        *_, last = analyse_in_turn(under(bracket, profile), progress=progress, kept=kept)
        found = replace(found, under_profile=last.results)
        if last.solved is not None:
            found = _with_quick(found, bracket, last.solved)
        if differs_under(bracket, profile):
            found = replace(found, under_file=analyse(bracket, progress=progress, kept=kept))
        built = as_built(bracket, record)
        if built.differs:
            as_made = under(built.bracket, profile)
            found = replace(found, built=analyse(as_made, progress=progress, kept=kept))
    except SolverError as error:
        return replace(found, trouble=f"{str(error).rstrip('.')}; there is no verdict.")
    return found


def _with_quick(found: Judgements, bracket: Bracket, solved: Solved) -> Judgements:
    answers = {
        place: _answer(solved, one.usual)
        for place, one in enumerate(loosenings_of(bracket))
        if one.usual is not None
    }
    return replace(found, before=_answer(solved, bracket), quick=answers)


def _answer(solved: Solved, bracket: Bracket) -> QuickAnswer | None:
    if not can_be_solved(bracket, findings_of(bracket), place_bolts(bracket)):
        return None
    try:
        return quick_answer(solved, bracket)
    except SolverError:
        return None  # it is ranked by its kind instead
