"""What an analysis found, table by table: movement, free motions, connections, welds, accuracy, around."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from app.wording.around_words import STANDING_MARKS
from app.wording.figures import Units, bare, figure, percent, quantity, sentence_in_units, unit_word
from app.wording.lash_words import lash_words
from app.wording.turn_words import turn_words
from app.wording.verdict_words import couple_words
from solver.around.line import SECOND_OPINION, STANDINGS

if TYPE_CHECKING:
    from app.cli.page import Page
    from solver.results import Results


def write_tables(page: Page, r: Results, units: Units, *, pencil: bool) -> None:
    """Write what there is under its headings; `pencil` says that refinement was left out."""
    _movement(page, r, units)
    _free_motions(page, r, units)
    _connections(page, r, units)
    _welds(page, r, units)
    _one_bolt_lost(page, r)
    _accuracy(page, r, units, pencil=pencil)
    _around(page, r, units)


def _movement(page: Page, r: Results, units: Units) -> None:
    if r.casing is None and r.friction_share is None:
        return
    page.heading("Movement of the casing under the couple as measured")
    if r.casing is not None:
        page.table(
            ("turn", "lean", "largest movement", "lash, both ways together"),
            [
                (
                    f"{figure(r.casing.turn_deg)} deg",
                    f"{figure(r.casing.lean_deg)} deg",
                    quantity(r.casing.movement_mm, "mm", units),
                    lash_words(r.casing.lash_deg),
                )
            ],
        )
    if r.turn_shares:
        page.line(f"Of the turn: {turn_words(r)}.", indent=2)
    if r.friction_share is not None:
        s = r.friction_share
        page.line(
            f"Friction share {percent(s.share)}: {quantity(s.stuck_nm_per_deg, 'N.m/deg', units)} with every "
            f"connection stuck, {quantity(s.slipped_nm_per_deg, 'N.m/deg', units)} with every one slipped.",
            indent=2,
        )
    if r.swing is not None:
        swing = f"By itself it swings {figure(r.swing.hz)} times a second at the slowest: {r.swing.words}."
        page.line(swing, indent=2)
    if r.friction_fails_nm is not None:
        alone = couple_words(r.friction_fails_nm, units)
        page.line(f"Were the plates rigid, friction alone would fail at {alone}.", indent=2)


def _free_motions(page: Page, r: Results, units: Units) -> None:
    if not r.free_motions:
        if r.cases:
            page.heading("Free motions")
            page.line("none: with every connection slipped, nothing moves unless something bends.", indent=2)
        return
    page.heading("Free motions, with every connection slipped")
    for motion in r.free_motions:
        words = sentence_in_units(motion.words.rstrip("."), units)
        if motion.driven_by:
            page.hanging("  - ", f"{words}. Driven by: {'; '.join(motion.driven_by)}.")
        else:
            page.hanging("  - ", f"{words}. No load case drives it.")


def _around(page: Page, r: Results, units: Units) -> None:
    if not r.around:
        return
    page.heading("Around the bracket")
    page.line(SECOND_OPINION, indent=2)
    for line in sorted(r.around, key=lambda x: STANDINGS.index(x.standing)):
        words = sentence_in_units(f"{line.group}, {line.name}: {line.words}", units)
        page.hanging(f"  {STANDING_MARKS[line.standing]:<7}", f"{words}.")


def _connections(page: Page, r: Results, units: Units) -> None:
    if not r.bolts:
        return
    page.heading("Connections, worst of all load cases")
    force, moment = (unit_word(unit, units) for unit in ("N", "N.m"))

    page.table(
        (
            "bolt",
            "state",
            f">shear {force}",
            f">tension {force}",
            f">spin {moment}",
            f">tilt {moment}",
            ">slip used",
        ),
        [
            (
                b.name,
                b.state,
                bare(b.shear_n, "N", units),
                bare(b.tension_n, "N", units),
                bare(b.spin_nm, "N.m", units),
                bare(b.tilt_nm, "N.m", units),
                "no preload" if b.slip_used is None else percent(b.slip_used),
            )
            for b in r.bolts
        ],
    )


def _welds(page: Page, r: Results, units: Units) -> None:
    if not r.welds:
        return
    page.heading("Welds, worst of all load cases")
    force, moment, length = (unit_word(unit, units) for unit in ("N", "N.m", "mm"))

    page.table(
        (
            "weld",
            "joins",
            f">throat {length}",
            f">along {force}",
            f">across {force}",
            f">bending {moment}",
            ">used",
        ),
        [
            (
                w.name,
                w.joint,
                bare(w.throat_mm, "mm", units),
                bare(abs(float(w.force_n[0])), "N", units),
                bare(math.hypot(w.force_n[1], w.force_n[2]), "N", units),
                bare(math.hypot(*w.moment_nmm) / 1000.0, "N.m", units),
                percent(w.used),
            )
            for w in r.welds
        ],
    )


def _one_bolt_lost(page: Page, r: Results) -> None:
    if not r.one_bolt_lost:
        return
    page.heading("One bolt lost")
    page.table(
        ("without", ">worst use, with its band", "check", "free motion"),
        [(x.bolt, percent(x.used_upper), x.worst_check, x.free_motion or "none") for x in r.one_bolt_lost],
    )


def _accuracy(page: Page, r: Results, units: Units, *, pencil: bool) -> None:
    if not r.accuracy.unknowns:
        return
    page.heading("Accuracy")
    if pencil or not r.accuracy.refined:
        page.line("Not refined: every figure above is in pencil, so far.", indent=2)
    if r.accuracy.words:
        page.line(sentence_in_units(r.accuracy.words, units), indent=2)
    if r.accuracy.footprints:
        page.line(f"Model of the footprints: {r.accuracy.footprints}.", indent=2)
    counts = ", then ".join(f"{n:,}".replace(",", " ") for n in r.accuracy.unknowns)
    page.line(f"Unknowns solved for: {counts}.", indent=2)
