"""The two pages of substance: the verdict, why, what it looks like, what governs. No Qt."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from app.paper.page import Measure
from app.paper.tables import Column, Table
from app.report.blocks import Block, Bullets, Drawn, Heading, Paragraph, Tabled
from app.report.figures import mounted_figures, plate_figures, stamp_figure
from app.report.job import ReportJob
from app.report.looser import looser_inputs, looser_limits
from app.report.turn_line import turn_figure
from app.wording.check_words import check_mark, hand_words, more_used_words, worst_first
from app.wording.figures import bare, figure, percent, quantity, sentence_in_units, unit_word
from app.wording.lash_words import lash_words
from app.wording.layout_words import layout_words
from app.wording.verdict_words import couple_words, driving_words, verdict_words
from solver.results import Check, Results

_MOST_REASONS: Final = 5
_MOST_CHECKS: Final = 9
_LONGEST: Final = 260
"""Letters of one reason on the front page; all of it stands further on."""


def front_blocks(job: ReportJob, width_mm: float, measure: Measure) -> Iterator[Block]:
    """Yield the front: what a reader in a hurry needs."""
    results = job.results
    words = "" if results is None else verdict_words(results, job.units)
    yield Drawn(stamp_figure(job.verdict, words, width_mm, measure), f"{job.verdict.upper()} {words}".strip())
    yield Paragraph(
        f"Judged under {job.judged_under}. It is no approval: local codes and a licensed or authorised"
        " certifier"
        " decide.",
        "small",
    )
    if told := layout_words(job.bracket):
        yield Paragraph(told, "small")
    yield from _looser(job)
    yield Heading("Why")
    yield Bullets(tuple(_shortened(sentence_in_units(r, job.units)) for r in _most(job.reasons)))
    yield from _governs(job)
    for drawn, shows in plate_figures(job, width_mm):
        yield Drawn(drawn, shows)
    if job.bracket.plates or job.bracket.casing is not None:
        drawn, shows = mounted_figures(job, width_mm, measure)
        yield Drawn(drawn, shows)
    if results is None:
        return
    yield from _movement(job, results)
    if (turned := turn_figure(results, width_mm, measure)) is not None:
        yield Drawn(*turned)
    yield from _most_used(job, results)
    yield from _bolts(job, results)
    yield from _welds(job, results)


def governs_words(job: ReportJob, check: Check) -> str:
    """Return the check that governs in a sentence."""
    units = job.units
    if check.kind == "rule":
        return f"{check.name}: {check_mark(check, 1.0)}; {check.where}."
    parts = (
        f"{check.name}: {percent(check.used)} used, {percent(check.used_upper)} at the upper end of its band;"
        f" {quantity(check.demand, check.unit, units)} against"
        f" {quantity(check.allowable, check.unit, units)}",
        sentence_in_units(check.where, units),
        sentence_in_units(check.case, units),
        hand_words(check, units),
    )
    return "; ".join(part for part in parts if part) + "."


def _governs(job: ReportJob) -> Iterator[Block]:
    results = job.results
    if results is None:
        return
    if driven := driving_words(results):
        yield Heading("Governs")
        yield Paragraph(driven)
    elif results.governs is not None:
        yield Heading("Governs")
        yield Paragraph(governs_words(job, results.governs))
        if more := more_used_words(results):
            yield Paragraph(more, "small")


def _looser(job: ReportJob) -> Iterator[Block]:
    looser = [*looser_limits(job.bracket.limits), *looser_inputs(job.bracket, job.units)]
    if looser:
        yield Bullets(tuple(looser), mark="!")


def _most(reasons: tuple[str, ...]) -> tuple[str, ...]:
    if len(reasons) <= _MOST_REASONS:
        return reasons
    return (*reasons[:_MOST_REASONS], f"and {len(reasons) - _MOST_REASONS} more reasons, further on")


def _shortened(reason: str) -> str:
    return reason if len(reason) <= _LONGEST else reason[: _LONGEST - 1] + "\u2026"


def _movement(job: ReportJob, r: Results) -> Iterator[Block]:
    units = job.units
    told = []
    if r.casing is not None:
        c = r.casing
        told.append(
            f"turn {figure(c.turn_deg)} deg, lean {figure(c.lean_deg)} deg, largest movement"
            f" {quantity(c.movement_mm, 'mm', units)}; lash {lash_words(c.lash_deg)}, both ways together"
        )
    if r.friction_share is not None:
        s = r.friction_share
        told.append(
            f"friction share {percent(s.share)}: {quantity(s.stuck_nm_per_deg, 'N.m/deg', units)} with every"
            f" connection stuck, {quantity(s.slipped_nm_per_deg, 'N.m/deg', units)} with every one slipped"
        )
    if r.friction_fails_nm is not None:
        told.append(
            f"were the plates rigid, friction alone would fail at {couple_words(r.friction_fails_nm, 'mm')}"
        )
    if r.swing is not None:
        told.append(f"by itself it swings {figure(r.swing.hz)} times a second: {r.swing.words}")
    if r.free_motions:
        told += [
            f"free motion: {m.words}; "
            + (f"driven by {len(m.driven_by)} load cases" if m.driven_by else "no load case drives it")
            for m in r.free_motions
        ]
    elif r.cases:
        told.append("free motions: none, with every connection slipped nothing moves unless something bends")
    if told:
        yield Heading("Movement of the casing under the couple as measured")
        yield Bullets(tuple(sentence_in_units(text, units) for text in told))


def _most_used(job: ReportJob, r: Results) -> Iterator[Block]:
    checks = worst_first(r.checks)
    if not checks:
        return
    shown = checks[:_MOST_CHECKS]
    more = f"; {len(checks) - len(shown)} more further on" if len(checks) > len(shown) else ""
    yield Heading(f"Checks most used{more}")
    yield Tabled(check_table(job, shown))


def check_table(job: ReportJob, checks: list[Check]) -> Table:
    """Return a table of checks."""
    columns = (
        Column("check", 40),
        Column("used", 15, right=True),
        Column("band", 12, right=True),
        Column("demand", 20, right=True),
        Column("allowable", 24, right=True),
        Column("where", 62),
        Column("limit", 14),
    )
    marginal = job.bracket.limits.marginal_used
    rows = []
    for check in checks:
        rule = check.kind == "rule"
        rows.append(
            (
                check.name,
                "" if rule else percent(check.used),
                "" if rule or check.band == 0.0 else f"+{percent(check.band)}",
                bare(check.demand, check.unit, job.units),
                quantity(check.allowable, check.unit, job.units),
                sentence_in_units(check.where, job.units),
                check_mark(check, marginal),
            )
        )
    return Table(columns, tuple(rows), size_mm=2.4)


def _welds(job: ReportJob, r: Results) -> Iterator[Block]:
    if not r.welds:
        return
    force, moment, length = (unit_word(unit, job.units) for unit in ("N", "N.m", "mm"))

    columns = (
        Column("weld", 14),
        Column("joins", 46),
        Column(f"throat, {length}", 18, right=True),
        Column(f"counts, {length}", 18, right=True),
        Column(f"along, {force}", 16, right=True),
        Column(f"across, {force}", 18, right=True),
        Column(f"bending, {moment}", 22, right=True),
        Column("used", 12, right=True),
        Column("worst case", 40),
    )
    rows = tuple(
        (
            w.name,
            w.joint,
            bare(w.throat_mm, "mm", job.units),
            bare(w.counted_mm, "mm", job.units),
            bare(abs(float(w.force_n[0])), "N", job.units),
            bare(math.hypot(w.force_n[1], w.force_n[2]), "N", job.units),
            bare(math.hypot(*w.moment_nmm) / 1000.0, "N.m", job.units),
            percent(w.used),
            sentence_in_units(w.case, job.units),
        )
        for w in r.welds
    )
    yield Heading("Welds, worst of all load cases")
    yield Tabled(Table(columns, rows, size_mm=2.4))


def _bolts(job: ReportJob, r: Results) -> Iterator[Block]:
    if not r.bolts:
        return
    force, moment = (unit_word(unit, job.units) for unit in ("N", "N.m"))

    columns = (
        Column("bolt", 16),
        Column("state", 18),
        Column(f"shear, {force}", 18, right=True),
        Column(f"tension, {force}", 20, right=True),
        Column(f"spin, {moment}", 18, right=True),
        Column(f"tilt, {moment}", 18, right=True),
        Column("slip used", 18, right=True),
        Column("worst case", 60),
    )
    rows = tuple(
        (
            b.name,
            b.state,
            bare(b.shear_n, "N", job.units),
            bare(b.tension_n, "N", job.units),
            bare(b.spin_nm, "N.m", job.units),
            bare(b.tilt_nm, "N.m", job.units),
            "no preload" if b.slip_used is None else percent(b.slip_used),
            sentence_in_units(b.case, job.units),
        )
        for b in r.bolts
    )
    yield Heading("Bolts, worst of all load cases")
    yield Tabled(Table(columns, rows, size_mm=2.4))
