"""The assembly card: in which order, how tight, how locked, and the marks that show a bolt has moved."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from typing import Final

import numpy as np

from app.cautions import CAUTIONS
from app.paper.bolts_to_buy import bolts_to_buy
from app.paper.job import PaperJob, computed_words, dressed, portrait
from app.paper.mounted import mounted_picture
from app.paper.page import SMALL_MM, Figure, Mark, Measure, Page, Stroke, Words, circle, line
from app.paper.part_table import BLANK, bought_words
from app.paper.tables import Column, Table
from app.wording.figures import plain
from app.wording.plate_name import plate_called
from app.wording.verdict_words import verdict_in_ink
from app.wording.weld_words import partner_of, plate_of_weld
from geometry.bolt_tables import BoltSize, UnknownBoltError, bolt_size
from geometry.bracket import Bracket
from geometry.nuts import prevailing_nm
from geometry.placing import BoltPlace, place_bolts

_GROUPS: Final = ("hole", "dash bar", "anchor", "boss")
"""Plates to each other first, then to the car, the casing last: it must not hang on a loose bracket."""
_GROUP_WORDS: Final = {
    "hole": "Join the plates to each other: bolts {names}, finger tight.",
    "dash bar": "Offer the plates up to the dash bar: bolts {names}, finger tight.",
    "anchor": "Bolt to the anchors: bolts {names}, finger tight.",
    "boss": "Offer the casing up on its bosses, its weight held by hand or block: bolts {names}, finger "
    "tight.",
}
_GLUED: Final = ("thread lock", "threadlock", "thread-lock", "adhesive")
"""What people write of a bolt that is glued into its thread."""
_NUTS_TAKE: Final = (
    "A locking nut's torque has in it what turns it on before it clamps; use no such nut twice."
)


def assembly_pages(job: PaperJob, measure: Measure) -> tuple[Page, ...]:
    """Return the card."""
    bracket = job.bracket
    if not bracket.plates:
        return ()
    flow = portrait(job, measure)
    picture_height = min(84.0, 0.3 * (flow.room.bottom_mm - flow.room.top_mm))
    width = flow.room.across_mm
    flow.figure(Figure(width, picture_height, (mounted_picture(bracket, (0.0, 0.0, width, picture_height)),)))
    if not _passes(job):
        # whoever builds by this card reads it here, not among the small words at its end
        flow.paragraph(computed_words(job), bold=True)
    order = tightening_order(bracket)
    flow.heading("Order")
    flow.steps(_steps(bracket, order))
    flow.heading("Tightening, in this order", keep_mm=30.0)
    flow.table(_bolt_table(bracket, order))
    flow.heading("Witness marks", keep_mm=34.0)
    flow.figure(_witness_marks(width))
    flow.paragraph(
        "With the torque on, draw one line of paint across bolt head, washer and plate, and across nut"
        " and bolt end. A broken line is a bolt that has turned: replace it, do not just tighten it."
        " Look after the first drive, after 100 km, then at every service."
    )
    flow.heading("Before anybody drives")
    flow.bullets(_last(bracket), size_mm=SMALL_MM)
    flow.bullets(CAUTIONS, size_mm=SMALL_MM)
    flow.paragraph(computed_words(job), size_mm=SMALL_MM)
    flow.paragraph(
        "Assembled by: ______________________   on: ______________   wrench: ______________________"
    )
    return flow.pages(lambda page, pages: dressed(job, "Assembly card", page, pages))


def _passes(job: PaperJob) -> bool:
    return job.own_results is not None and verdict_in_ink(job.own_results) == "pass"


def tightening_order(bracket: Bracket) -> tuple[str, ...]:
    """Return the bolts in the order they are tightened, group by group.

    Within a group the one nearest to its middle first, then always the one farthest from all that are tight:
    across and across. Bolts without a place come last.
    """
    places = {place.bolt: place for place in place_bolts(bracket) if place.side == "head"}
    found: list[str] = []
    for kind in _GROUPS:
        group = [places[b.name] for b in bracket.bolts if b.joins.to == kind and b.name in places]
        found += _across(group)
    return (*found, *(b.name for b in bracket.bolts if b.name not in places))


def _across(group: Sequence[BoltPlace]) -> list[str]:
    if not group:
        return []
    middle = np.mean([p.mating_mm for p in group], axis=0)
    waiting = sorted(group, key=lambda p: (round(float(np.linalg.norm(p.mating_mm - middle)), 3), p.bolt))
    done = [waiting.pop(0)]

    def far(place: BoltPlace) -> tuple[float, float]:
        off = [round(float(np.linalg.norm(place.mating_mm - d.mating_mm)), 3) for d in done]
        return min(off), off[-1]  # of two as far from all that are tight, the one farther from the last

    while waiting:
        farthest = max(waiting, key=far)
        waiting.remove(farthest)
        done.append(farthest)
    return [place.bolt for place in done]


def _steps(bracket: Bracket, order: Sequence[str]) -> list[str]:
    steps = [
        "Battery off. Deburr plates and holes; faces where plates are clamped clean, dry and without"
        " thick paint: the friction that was computed is that of such faces."
    ]
    if bracket.welds:
        joints = ", ".join(f"{w.name} ({plate_of_weld(w)} to {partner_of(w)})" for w in bracket.welds)
        steps.append(
            plain(
                f"Weld {joints} as the drawing has it, before anything is bolted: casing and electronics out"
                " of the car while anybody welds in it. Let it cool, look for cracks, and have whoever judges"
                " welds look too."
            )
        )
    glued = [n for n in order if any(word in (bracket.bolt(n).locking or "").casefold() for word in _GLUED)]
    if glued:
        steps[0] += plain(
            f" Thread lock goes on clean, dry threads before the bolt goes in ({', '.join(glued)}), and the"
            " bolt is tightened before it sets."
        )
    for kind in _GROUPS:
        names = [n for n in order if bracket.bolt(n).joins.to == kind]
        if names:
            steps.append(plain(_GROUP_WORDS[kind].format(names=", ".join(names))))
    steps += [
        "Let the shaft find its own line: turn it through a whole turn by hand. Close any gap wider than"
        " paper with a shim or spacer; never pull it shut with a bolt.",
        "Tighten with a torque wrench in the order below, first to half the torque, then to all of it; lock,"
        " tick, and draw the witness mark at once."
        + (f" {_NUTS_TAKE}" if any(prevailing_nm(bolt) > 0.0 for bolt in bracket.bolts) else ""),
        "Turn the shaft again, lock to lock: it must be as free as before. If it is not, loosen and begin "
        "again.",
    ]
    return steps


def _bolt_table(bracket: Bracket, order: Sequence[str]) -> Table:
    bought = bolts_to_buy(bracket)
    rows = []
    for number, name in enumerate(order, start=1):
        bolt = bracket.bolt(name)
        try:
            size = bolt_size(bolt.size)
            buy = bought_words(bolt, bought.get(name))
            spanner = _flats(size)
        except UnknownBoltError:
            buy, spanner = bolt.size, ""
        torque = BLANK if bolt.tightening_nm is None else f"{bolt.tightening_nm:.4g} N.m"
        if bolt.tightening_nm is None and bolt.preload_n is not None:
            torque = f"to {bolt.preload_n[0]:.0f} N"
        rows.append(
            tuple(
                plain(cell)
                for cell in (
                    f"{number}", name, _joins(bracket, name), buy, bolt.grade or BLANK, spanner, torque,
                    bolt.locking or BLANK, "", "",
                )
            )
        )  # fmt: skip
    columns = (
        Column("", 6), Column("bolt", 12), Column("goes", 30), Column("size", 22), Column("grade", 13),
        Column("flats", 10), Column("torque", 16), Column("locking", 31), Column("tight", 11),
        Column("mark", 11),
    )  # fmt: skip
    return Table(columns, tuple(rows), least_row_mm=6.0)


def _flats(size: BoltSize) -> str:
    """Return the head's width across flats as it stands on the spanner."""
    if size.system == "metric":
        return f"{size.head_across_flats_mm:g}"
    return f"{Fraction(round(size.head_across_flats_mm / 25.4 * 16), 16)} in"


def _joins(bracket: Bracket, name: str) -> str:
    joins = bracket.bolt(name).joins
    match joins.to:
        case "boss":
            return f"boss {joins.boss}"
        case "anchor":
            return f"anchor {joins.anchor}"
        case "hole":
            return plate_called(joins.plate)
        case _:
            return "dash bar"


def _last(bracket: Bracket) -> list[str]:
    notes = [
        "Wheel from lock to lock with the suspension up and down: nothing touches the casing, cable or "
        "bracket."
    ]
    if bracket.shaft_joints:
        notes.append("Shaft joints: pinch bolts tight and locked, joints in phase.")
    notes.append(
        "Prove it with a mass on a lever (proof card), then show it to the certifier with this card."
    )
    return notes


def _witness_marks(width_mm: float) -> Figure:
    """Return a bolt head with its mark whole, and the same with the mark broken."""
    marks: list[Mark] = []
    for x, turned, words in (
        (0.3 * width_mm, 0.0, "as tightened"),
        (0.7 * width_mm, 28.0, "it has turned: replace it"),
    ):
        cx, cy = x, 11.0
        marks += [circle((cx, cy), 9.0, "medium"), circle((cx, cy), 7.4, "thin")]
        turns = [math.radians(60.0 * k + 30.0 + turned) for k in range(6)]
        marks.append(
            Stroke(
                tuple((cx + 6.6 * math.cos(t), cy + 6.6 * math.sin(t)) for t in turns), "thick", closed=True
            )
        )
        way = math.radians(turned)
        ux, uy = math.cos(way), math.sin(way)
        marks.append(line((cx + 1.5 * ux, cy + 1.5 * uy), (cx + 6.3 * ux, cy + 6.3 * uy), kind="thick"))
        marks.append(line((cx + 6.8, cy), (cx + 14.0, cy), kind="thick"))
        marks.append(Words(words, (cx, 25.0), SMALL_MM, "middle"))
    return Figure(width_mm, 27.0, tuple(marks))
