"""The proof card, one page: a mass on a lever, a dial gauge, and what it should read. No Qt."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from app.cautions import CAUTIONS
from app.paper.flow import Dressed, Flow
from app.paper.job import PaperJob, computed_words, dressed, portrait
from app.paper.page import SMALL_MM, Measure, Page
from app.paper.proof_sketch import place_words, proof_sketch
from app.paper.tables import Column, Table
from app.wording.figures import Units, in_units, plain
from solver.proof_places import (
    LOWER_EDGE,
    NamedPlace,
    gauge_place,
    hang_of,
    worth_gauging,
)
from solver.proof_readings import (
    READ_MM,
    Expected,
    ExpectedReadings,
    Hang,
    ProofError,
    expected_readings,
    turn_arm_mm,
)
from solver.proof_telling import proposal, telling
from solver.results import Results

LEVEL_ENOUGH_DEG: Final = 1.0
_HEAVY_KG: Final = 12.0
_UNIT: Final[dict[Units, str]] = {"mm": "mm", "inch": "in"}
_PLACES: Final[dict[Units, int]] = {"mm": 2, "inch": 4}
"""A dial gauge shows hundredths of a mm, or ten-thousandths of an inch."""


@dataclass(frozen=True)
class Lever:
    """The lever to use."""

    arm_mm: float = 500.0


def proof_pages(job: PaperJob, measure: Measure, lever: Lever) -> tuple[Page, ...]:
    """Return a card of one page for every place worth gauging.

    ProofError where there is no casing, no couple, or nothing was solved.
    """
    bracket = job.bracket
    first, hang = gauge_place(bracket), hang_of(bracket, lever.arm_mm)
    results = job.own_results
    if results is None:
        raise ProofError("what the gauge should read has to be computed first: the analysis gave nothing")
    expected_readings(results, first, hang)  # or there is nothing to expect anywhere
    places = worth_gauging(bracket, results, hang)
    cards = [_card(job, results, measure, place, hang) for place in places]
    return tuple(
        page
        for number, card in enumerate(cards, 1)
        for page in card.pages(_dressing(job, number, len(cards)))
    )


def _dressing(job: PaperJob, number: int, cards: int) -> Dressed:
    name = "Proof card" if cards == 1 else f"Proof card {number} of {cards}"
    return lambda page, pages: dressed(job, name, number if pages == 1 else page, max(cards, pages))


def _card(job: PaperJob, results: Results, measure: Measure, place: NamedPlace, hang: Hang) -> Flow:
    bracket, gauge = job.bracket, place.gauge
    expected = expected_readings(results, gauge, hang)
    flow = portrait(job, measure)
    couple = bracket.loads.couple
    flow.paragraph(
        f"Couple without any factor: {couple.value_nm:.3g} N.m, {plain(couple.words)}."
        f" Hang {hang.mass_kg:.1f} kg at {hang.arm_mm:g} mm: {hang.couple_nm:.1f} N.m about the shaft"
        + (f", which is raked by {hang.rake_deg:g} deg." if abs(hang.rake_deg) >= LEVEL_ENOUGH_DEG else ".")
        + (" The rake is blank and taken as level." if bracket.rake_deg is None else ""),
        bold=True,
    )
    arm, sideways = turn_arm_mm(gauge), place.name == LOWER_EDGE
    units = job.units
    at = gauge.at_mm if sideways else (arm, gauge.at_mm[1], gauge.at_mm[2])
    flow.figure(proof_sketch(hang.mass_kg, hang.arm_mm, at, hang.rake_deg, units, sideways=sideways))
    flow.steps(_steps(place, hang, units))
    way = "to the right" if sideways else "up on the right-hand side of the casing"
    flow.heading(f"Readings, {_UNIT[units]}, {place.name}; more is {way}")
    flow.table(_readings_table())
    flow.table(_bands_table(expected, units))
    if tells := telling(results, gauge, hang).words:
        flow.paragraph(f"{tells} {proposal(bracket, results, gauge, hang)}", size_mm=SMALL_MM, bold=True)
    flow.paragraph(_limits_words(job, arm), size_mm=SMALL_MM)
    flow.bullets(_notes(hang), size_mm=SMALL_MM)
    flow.paragraph(computed_words(job), size_mm=SMALL_MM)
    flow.paragraph(f"{CAUTIONS[0]} {CAUTIONS[3]}", size_mm=SMALL_MM, bold=True)
    flow.paragraph("Done by: ______________________   on: ______________   gauge: ______________________")
    return flow


def _steps(place: NamedPlace, hang: Hang, units: Units) -> list[str]:
    x, y, z = (place_words(mm, units) for mm in place.gauge.at_mm)
    tip = (
        f"against the right side of the casing at y {y}, z {z}, reading more as it goes right"
        if place.name == LOWER_EDGE
        else f"on top of the casing at x {x}, y {y}, z {z}, reading more as it rises"
    )
    return [
        "Battery off: the unit has no power, and its motor must not hold. Shafts free: undo the lower"
        " shaft joint, and let the steering wheel turn as it likes. Wheels of the car chocked.",
        "Clamp a stiff level lever to the casing, square to the shaft, in the middle of the casing"
        f" (z = {place_words(hang.station_mm, units)}); it must touch nothing else. Mark both arms from the"
        " shaft axis.",
        f"Stand the dial gauge on the body of the car, not on bracket or dash bar; tip {tip}. Set it to"
        " nought with the lever on; push the casing by hand: the needle must move.",
        "Hang left gently, read; take off, read. Hang right, read; take off, read. Hang left once more:"
        " the first reading must come again. Nobody under the mass.",
    ]


def _readings_table() -> Table:
    titles = ("left", "off, after left", "right", "off, after right", "left again")
    return Table(tuple(Column(t, 1.0) for t in titles), (("",) * 5,), least_row_mm=7.5)


def _bands_table(expected: ExpectedReadings, units: Units) -> Table:
    unit = _UNIT[units]
    columns = (
        Column("", 32),
        Column("how", 58),
        Column(f"expected, {unit}", 52),
        Column(f"found, {unit}", 24),
    )
    rows = (
        ("couple's share", "(left - right) / 2", band_words(expected.couple_share, units), ""),
        ("sag", "(left + right) / 2", band_words(expected.sag, units), ""),
        (
            "gap at zero, the lash",
            "off after left less off after right, no sign",
            band_words(expected.gap, units),
            "",
        ),
    )
    return Table(columns, rows, least_row_mm=7.0)


def band_words(expected: Expected, units: Units = "mm") -> str:
    """Return a band in words, rounded outward: `0.01 to 0.08 held, to 0.60 slipped`."""
    low = _down(expected.low_mm, units)
    held = f"{low} to {_up(expected.held_mm, units)} held"
    if expected.high_mm is None:
        return f"{held}; slipped: only friction stops it"
    return f"{held}, to {_up(expected.high_mm, units)} slipped"


def _down(mm: float, units: Units) -> str:
    value, places = in_units(mm, "mm", units)[0], _PLACES[units]
    return f"{np.floor(value * 10.0**places + 1e-9) / 10.0**places + 0.0:.{places}f}"


def _up(mm: float, units: Units) -> str:
    value, places = in_units(mm, "mm", units)[0], _PLACES[units]
    return f"{np.ceil(value * 10.0**places - 1e-9) / 10.0**places + 0.0:.{places}f}"


def _limits_words(job: PaperJob, arm_mm: float) -> str:
    limit = job.bracket.limits.turn_deg
    slips = [] if job.results is None else [b.name for b in job.results.bolts if b.state == "slipped"]
    expected = (
        f" The analysis has bolts {plain(', '.join(slips))} slip under the couple with its factor."
        if slips
        else ""
    )
    return (
        f"A turn of {limit:g} deg, the file's limit, is {np.radians(limit) * arm_mm:.2f} mm here. Held: by"
        " friction. Slipped: every bolt, with half the lash. Both wider by the analysis' band and"
        f" {READ_MM:g} mm of reading. Past the first, bolts have moved: look why." + expected
    )


def _notes(hang: Hang) -> list[str]:
    notes = [
        "Inside the bands says that the mounting moves as computed, not that it is approved. Outside is an"
        " open item: a loose bolt, a softer bar end, another thickness. Type the readings into the record.",
        "The record takes the same hang on the donor's own mounting (its N.m/deg is the reference) and a pull"
        " at the middle of the dash bar, with a gauge there and one at each end.",
    ]
    if hang.mass_kg > _HEAVY_KG:
        notes.insert(0, f"{hang.mass_kg:.1f} kg is much to hang by hand: print the card with a longer arm.")
    return notes
