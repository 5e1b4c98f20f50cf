"""The proof card, one page: a mass on a lever, a dial gauge, and what it should read. No Qt."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from app.cautions import CAUTIONS
from app.paper.job import PaperJob, computed_words, dressed, portrait
from app.paper.page import SMALL_MM, Measure, Page
from app.paper.proof_sketch import proof_sketch
from app.paper.tables import Column, Table
from app.wording.figures import plain
from geometry.bracket import Bracket
from geometry.placing import casing_to_space
from solver.proof_readings import (
    Expected,
    ExpectedReadings,
    GaugePlace,
    Hang,
    ProofError,
    expected_readings,
    hung_mass_kg,
    turn_arm_mm,
)

LEVEL_ENOUGH_DEG: Final = 1.0
_HEAVY_KG: Final = 12.0
_INSET_MM: Final = 5.0
"""The tip stands so far in from the casing's edge."""


@dataclass(frozen=True)
class Lever:
    """The lever to use; the gauge stands where `gauge_place` puts it."""

    arm_mm: float = 500.0


def gauge_place(bracket: Bracket) -> GaugePlace:
    """Return where the gauge stands: on top of the casing near its right edge, reading up.

    A quarter of the casing's length from its end by the wheel; the lever has the middle. ProofError without a
    casing, or one that does not reach to the right of the shaft.
    """
    casing = bracket.casing
    if casing is None:
        raise ProofError("there is no casing to set a gauge on: add the casing first")
    low, high = casing.envelope.low_mm, casing.envelope.high_mm
    station = high[2] - 0.25 * (high[2] - low[2])
    corners = [casing_to_space(casing, (x, y, station)) for x in (low[0], high[0]) for y in (low[1], high[1])]
    x, y, z = (float(v) for v in max(corners, key=lambda p: float(p[0] + p[1])))
    arm = x - _INSET_MM if x > 4.0 * _INSET_MM else x
    if not arm > 1.0:
        raise ProofError(
            "the casing's block does not reach to the right of the shaft: give its measures first"
        )
    return GaugePlace((arm, y, z), (0.0, 1.0, 0.0))


def hang_of(bracket: Bracket, lever: Lever) -> Hang:
    """Return the hang for the couple without its factor, to a tenth of a kilogram; ProofError if none."""
    couple = bracket.loads.couple.value_nm
    if couple is None:
        raise ProofError("the couple is blank, so there is no mass to hang: fill it first")
    casing = bracket.casing
    if casing is None:
        raise ProofError("there is no casing to bolt a lever to: add the casing first")
    rake = bracket.rake_deg or 0.0
    mass = max(round(hung_mass_kg(couple, lever.arm_mm, rake), 1), 0.1)
    middle = (casing.envelope.low_mm[2] + casing.envelope.high_mm[2]) / 2.0
    return Hang(mass, lever.arm_mm, casing.station_mm + middle, rake)


def proof_pages(job: PaperJob, measure: Measure, lever: Lever) -> tuple[Page, ...]:
    """Return the card, one page; ProofError where there is no casing, no couple, or nothing was solved."""
    bracket = job.bracket
    gauge, hang = gauge_place(bracket), hang_of(bracket, lever)
    if job.results is None or job.results.hash != job.input_hash:
        raise ProofError("what the gauge should read has to be computed first: the analysis gave nothing")
    expected = expected_readings(job.results, gauge, hang)
    flow = portrait(job, measure)
    couple = bracket.loads.couple
    flow.paragraph(
        f"Couple without any factor: {couple.value_nm:.3g} N.m, {plain(couple.words)}."
        f" Hang {hang.mass_kg:.1f} kg at {hang.arm_mm:g} mm: {hang.couple_nm:.1f} N.m about the shaft"
        + (f", which is raked by {hang.rake_deg:g} deg." if abs(hang.rake_deg) >= LEVEL_ENOUGH_DEG else ".")
        + (" The rake is blank and taken as level." if bracket.rake_deg is None else ""),
        bold=True,
    )
    arm = turn_arm_mm(gauge)
    flow.figure(proof_sketch(hang.mass_kg, hang.arm_mm, (arm, gauge.at_mm[1], gauge.at_mm[2]), hang.rake_deg))
    flow.steps(_steps(gauge, hang))
    flow.heading("Readings, mm; more is up on the right-hand side of the casing")
    flow.table(_readings_table())
    flow.table(_bands_table(expected))
    flow.paragraph(_limits_words(job, arm), size_mm=SMALL_MM)
    flow.bullets(_notes(hang), size_mm=SMALL_MM)
    flow.paragraph(computed_words(job), size_mm=SMALL_MM)
    flow.paragraph(f"{CAUTIONS[0]} {CAUTIONS[3]}", size_mm=SMALL_MM, bold=True)
    flow.paragraph("Done by: ______________________   on: ______________   gauge: ______________________")
    return flow.pages(lambda page, pages: dressed(job, "Proof card", page, pages))


def _steps(gauge: GaugePlace, hang: Hang) -> list[str]:
    x, y, z = gauge.at_mm
    return [
        "Battery off: the unit has no power, and its motor must not hold. Shafts free: undo the lower"
        " shaft joint, and let the steering wheel turn as it likes. Wheels of the car chocked.",
        "Clamp a stiff level lever to the casing, square to the shaft, in the middle of the casing"
        f" (z = {hang.station_mm:.0f}); it must touch nothing else. Mark both arms from the shaft axis.",
        "Stand the dial gauge on the body of the car, not on bracket or dash bar; tip on top of the casing at"
        f" x {x:.0f}, y {y:.0f}, z {z:.0f}, reading more as it rises. Set it to nought with the lever on.",
        "Hang left gently, read; take off, read. Hang right, read; take off, read. Hang left once more:"
        " the first reading must come again. Nobody under the mass.",
    ]


def _readings_table() -> Table:
    titles = ("left", "off, after left", "right", "off, after right", "left again")
    return Table(tuple(Column(t, 1.0) for t in titles), (("",) * 5,), least_row_mm=7.5)


def _bands_table(expected: ExpectedReadings) -> Table:
    columns = (Column("", 32), Column("how", 58), Column("expected, mm", 52), Column("found, mm", 24))
    rows = (
        ("couple's share", "(left - right) / 2", band_words(expected.couple_share), ""),
        ("sag", "(left + right) / 2", band_words(expected.sag), ""),
        (
            "gap at zero, the lash",
            "off after left less off after right, no sign",
            band_words(expected.gap),
            "",
        ),
    )
    return Table(columns, rows, least_row_mm=7.0)


def band_words(expected: Expected) -> str:
    """Return a band in words, rounded outward: `0.01 to 0.08 held, to 0.60 slipped`."""
    low = _down(expected.low_mm)
    held = f"{low} to {_up(expected.held_mm)} held"
    if expected.high_mm is None:
        return f"{held}; slipped: only friction stops it"
    return f"{held}, to {_up(expected.high_mm)} slipped"


def _down(mm: float) -> str:
    return f"{np.floor(mm * 100.0 + 1e-9) / 100.0 + 0.0:.2f}"


def _up(mm: float) -> str:
    return f"{np.ceil(mm * 100.0 - 1e-9) / 100.0 + 0.0:.2f}"


def _limits_words(job: PaperJob, arm_mm: float) -> str:
    limit = job.bracket.limits.turn_deg
    slips = [] if job.results is None else [b.name for b in job.results.bolts if b.state == "slipped"]
    expected = (
        f" The analysis has bolts {plain(', '.join(slips))} slip under the couple with its factor."
        if slips
        else ""
    )
    return (
        f"A turn of {limit:g} deg, the file's limit, is {np.radians(limit) * arm_mm:.2f} mm here. Held: while"
        " friction holds every bolt. Slipped: all of them, with half the lash. Both are wider by the"
        " analysis' own band and one division of 0.01 mm. Past the first, bolts have moved: look why."
        + expected
    )


def _notes(hang: Hang) -> list[str]:
    notes = [
        "Inside the bands says that the mounting moves as computed, not that it is approved. Outside is"
        " an open item: look for a loose bolt, a softer bar end, another thickness; type the readings"
        " into the record.",
        "The same card on the donor's own mounting makes its N.m/deg the reference. The same mass hung"
        " from the middle of the dash bar, a gauge there and one at each end, gives the bar ends their"
        " measured stiffness.",
    ]
    if hang.mass_kg > _HEAVY_KG:
        notes.insert(0, f"{hang.mass_kg:.1f} kg is much to hang by hand: print the card with a longer arm.")
    return notes
