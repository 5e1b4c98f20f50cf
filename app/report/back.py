"""What the verdict rests on: assumptions, inputs, every check, accuracy, cautions. No Qt."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from app.cautions import CAUTIONS
from app.compare.input_words import things_of
from app.paper.tables import Column, Table
from app.report.blocks import Block, Bullets, Heading, NewPage, Paragraph, Tabled
from app.report.job import ReportJob
from app.report.record_part import record_blocks
from app.wording.around_words import STANDING_MARKS
from app.wording.check_formulas import formula_of
from app.wording.check_words import band_words, check_mark, hand_words, worst_first
from app.wording.figures import figure, percent, quantity, reading_in_units, sentence_in_units
from app.wording.sensitivity_words import heads, trial_cells
from geometry.finding import worst_first as gravest_first
from geometry.finding_words import sentence
from solver.around.line import SECOND_OPINION, STANDINGS
from solver.results import Check, Results

_SEVERITY: Final = {
    "stop": "cannot be analysed",
    "doubt": "bars a verdict",
    "rule": "broken rule",
    "note": "note",
}


def back_blocks(job: ReportJob) -> Iterator[Block]:
    """Yield everything the front rests on."""
    results = job.results
    if results is not None and results.cases:
        yield NewPage()
    yield Heading("What the verdict rests on", 1)
    yield from _reasons(job)
    if results is not None:
        yield from _assumptions(job, results)
    yield from _findings(job)
    yield from _inputs(job)
    if results is not None:
        yield from _checks(job, results)
        yield from _one_bolt_lost(results)
        yield from _trials(job)
        yield from _around(job, results)
        yield from _accuracy(job, results)
    if job.record is not None:
        yield from record_blocks(job.record, job.bracket)
    if results is not None:
        yield Heading("Not computed")
        yield Bullets(results.not_computed)
    yield Heading("Cautions")
    yield Bullets((*CAUTIONS, *job.cautions))


def _reasons(job: ReportJob) -> Iterator[Block]:
    if job.trouble:
        yield Paragraph(job.trouble, "bold")
    if job.reasons:
        yield Heading("Every reason of the verdict")
        yield Bullets(tuple(sentence_in_units(reason, job.units) for reason in job.reasons))


def _assumptions(job: ReportJob, r: Results) -> Iterator[Block]:
    rest = tuple(text for text in r.assumptions if text not in r.flagged)
    if not r.flagged and not rest:
        return
    yield Heading("Assumptions; those off the usual, or on somebody's word, are marked !")
    if r.flagged:
        yield Bullets(tuple(sentence_in_units(text, job.units) for text in r.flagged), mark="!")
    yield Bullets(tuple(sentence_in_units(text, job.units) for text in rest))


def _findings(job: ReportJob) -> Iterator[Block]:
    if job.findings:
        yield Heading("Findings")
        yield Bullets(
            tuple(
                f"{'blank' if f.is_blank else _SEVERITY[f.severity]}: {sentence(f)}"
                for f in gravest_first(job.findings)
            )
        )


def _inputs(job: ReportJob) -> Iterator[Block]:
    yield Heading("Inputs")
    rows = tuple(
        (
            thing,
            "; ".join(f"{called} {reading_in_units(value, job.units)}" for called, value in inputs.items()),
        )
        for thing, inputs in things_of(job.bracket).items()
    )
    whose = "in the file's own units" if job.units == "mm" else "converted; the file has them in mm and N"
    yield Tabled(Table((Column("thing", 36), Column(f"inputs, {whose}", 150)), rows, size_mm=2.3))


def _checks(job: ReportJob, r: Results) -> Iterator[Block]:
    if not r.checks:
        return
    yield Heading("Every check", 1)
    for check in worst_first(r.checks):
        yield Heading(_check_heading(job, check))
        yield Bullets(tuple(_check_lines(job, check)))


def _check_heading(job: ReportJob, check: Check) -> str:
    mark = check_mark(check, job.bracket.limits.marginal_used)
    if check.kind == "rule":
        return f"{check.name}: {mark}"
    said = f"{check.name}: {percent(check.used)} used"
    if check.band > 0.0:
        said += f", {percent(check.used_upper)} at the upper end of its band"
    return f"{said} \u2013 {mark}" if mark else said


def _check_lines(job: ReportJob, check: Check) -> Iterator[str]:
    units = job.units
    demand = quantity(check.demand, check.unit, units)
    allowable = quantity(check.allowable, check.unit, units)
    yield f"demand {demand} against {allowable}; band +{percent(check.band)}"
    if band := band_words(check):
        yield band
    if formula := formula_of(check.name):
        yield f"formula: {formula}"
    yield f"source: {check.source}"
    place = "; ".join(sentence_in_units(x, units) for x in (check.where, check.case) if x.strip())
    if place:
        yield f"where: {place}"
    if hand := hand_words(check, units):
        yield hand
    if check.note:
        yield sentence_in_units(check.note, units)


def _one_bolt_lost(r: Results) -> Iterator[Block]:
    if r.one_bolt_lost:
        columns = (
            Column("without bolt", 22),
            Column("worst use, with its band", 36, right=True),
            Column("check", 60),
            Column("free motion it leaves", 62),
        )
        rows = tuple(
            (x.bolt, percent(x.used_upper), x.worst_check, x.free_motion or "none") for x in r.one_bolt_lost
        )
        yield Heading("One bolt lost")
        yield Tabled(Table(columns, rows, size_mm=2.4))


def _trials(job: ReportJob) -> Iterator[Block]:
    if not job.trials:
        return
    widths = (52, 22, 22, 24, 44, 24)
    said = heads(job.units)
    columns = tuple(
        Column(head, width, right=head == said[-1]) for head, width in zip(said, widths, strict=True)
    )
    yield Heading("One input changed at a time, all else as it is; used at the upper end of the band")
    yield Tabled(Table(columns, tuple(trial_cells(trial, job.units) for trial in job.trials), size_mm=2.4))


def _around(job: ReportJob, r: Results) -> Iterator[Block]:
    if not r.around:
        return
    columns = (Column("", 14), Column("about", 34), Column("what", 108), Column("source", 44))
    rows = tuple(
        (
            STANDING_MARKS[x.standing],
            x.group,
            sentence_in_units(f"{x.name}: {x.words}", job.units),
            x.source,
        )
        for x in sorted(r.around, key=lambda x: STANDINGS.index(x.standing))
    )
    yield Heading("Around the bracket")
    yield Paragraph(SECOND_OPINION, "small")
    yield Tabled(Table(columns, rows, size_mm=2.3))


def _accuracy(job: ReportJob, r: Results) -> Iterator[Block]:
    if not r.accuracy.unknowns:
        return
    counts = ", then ".join(f"{n:,}".replace(",", " ") for n in r.accuracy.unknowns)
    told = [sentence_in_units(r.accuracy.words, job.units)] if r.accuracy.words else []
    if r.accuracy.footprints:
        told.append(f"model of the footprints: {r.accuracy.footprints}")
    told.append(f"unknowns solved for: {counts}; meshes finer by {figure(r.accuracy.ratio)}")
    changed = sorted(r.accuracy.change.items(), key=lambda pair: -pair[1])[:8]
    if changed:
        told.append(
            "between the last two meshes changed: "
            + ", ".join(f"{name} {percent(by)}" for name, by in changed)
        )
    worst = max((case.unbalance for case in r.cases), default=0.0)
    told.append(f"forces on every plate balance to {worst:.0e} of the largest connection force")
    yield Heading("Accuracy")
    yield Bullets(tuple(told))
