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


@dataclass(frozen=True)
class Lever:
    """The lever to use; the gauge stands where `gauge_place` puts it."""

    arm_mm: float = 500.0


def gauge_place(bracket: Bracket) -> GaugePlace:
    """Return where the gauge stands: the casing's side that looks most to the right, at the end by the wheel.

    It reads square to the shaft and to its arm, more as the casing turns from X toward Y.
    """
    casing = bracket.casing
    if casing is None:
        raise ProofError("there is no casing to set a gauge on: add the casing first")
    low, high = np.array(casing.envelope.low_mm), np.array(casing.envelope.high_mm)
    middle = (low + high) / 2.0
    sides = []
    for axis in (0, 1):
        for edge in (low, high):
            place = np.array([middle[0], middle[1], high[2]])
            place[axis] = edge[axis]
            sides.append(casing_to_space(casing, (float(place[0]), float(place[1]), float(place[2]))))
    at = max(sides, key=lambda p: float(p[0]))
    arm = float(np.hypot(at[0], at[1]))
    if not arm > 1.0:
        raise ProofError("the casing's block is no wider than the shaft: give its outside measures first")
    return GaugePlace(
        (float(at[0]), float(at[1]), float(at[2])), (float(-at[1] / arm), float(at[0] / arm), 0.0)
    )


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
    return Hang(mass, lever.arm_mm, casing.station_mm + casing.envelope.high_mm[2], rake)


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
        f"Couple without any factor: {couple.value_nm:.3g} N.m, {plain(couple.words)}. Hang "
        f"{hang.mass_kg:.1f} kg at "
        f"{hang.arm_mm:g} mm: {hang.couple_nm:.1f} N.m about the shaft"
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
    return [
        "Battery off: the unit has no power, and its motor must not hold. Shafts free: undo the lower shaft "
        "so that "
        "the casing alone is held by the bracket; wheels of the car chocked.",
        f"Bolt a stiff level lever to the casing, square to the shaft, at z = {hang.station_mm:.0f}; it "
        "must touch "
        "nothing else. Mark both arms from the shaft axis.",
        "Stand the dial gauge on the body of the car, not on bracket or dash bar; tip on the casing itself "
        "at "
        f"x {gauge.at_mm[0]:.0f}, y {gauge.at_mm[1]:.0f}, z {gauge.at_mm[2]:.0f}, reading up. Set it to "
        "nought with "
        "the lever on.",
        "Hang left gently, read; take off, read. Hang right, read; take off, read. Hang left once more: the "
        "first "
        "reading must come again. Nobody under the mass.",
    ]


def _readings_table() -> Table:
    titles = ("left", "off, after left", "right", "off, after right", "left again")
    return Table(tuple(Column(t, 1.0) for t in titles), (("",) * 5,), least_row_mm=7.5)


def _bands_table(expected: ExpectedReadings) -> Table:
    columns = (Column("", 30), Column("how", 62), Column("expected, mm", 34), Column("found, mm", 26))
    rows = (
        ("couple's share", "(left - right) / 2", band_words(expected.couple_share), ""),
        ("sag", "(left + right) / 2", band_words(expected.sag), ""),
        (
            "gap at zero, the lash",
            "off after left - off after right, without its sign",
            band_words(expected.gap),
            "",
        ),
    )
    return Table(columns, rows, least_row_mm=7.0)


def band_words(expected: Expected) -> str:
    """Return a band in words, such as `0.01 to 0.08`, rounded outward."""
    low = np.floor(expected.low_mm * 100.0 + 1e-9) / 100.0 + 0.0
    if expected.high_mm is None:
        return f"{low:.2f} or more: only friction stops it"
    high = np.ceil(expected.high_mm * 100.0 - 1e-9) / 100.0 + 0.0
    return f"{low:.2f} to {high:.2f}"


def _limits_words(job: PaperJob, arm_mm: float) -> str:
    limit = job.bracket.limits.turn_deg
    return (
        f"A turn of {limit:g} deg, the file's limit, is {np.radians(limit) * arm_mm:.2f} mm here. The bands "
        "run from all "
        "bolts held by friction to all slipped with half the lash, wider by the analysis' own band and one "
        "division "
        "of 0.01 mm."
    )


def _notes(hang: Hang) -> list[str]:
    notes = [
        "Inside the bands says that the mounting moves as computed, not that it is approved. Outside is an "
        "open item: "
        "look for a loose bolt, a softer bar end, another thickness; type the readings into the record.",
        "The same card on the donor's own mounting makes its N.m/deg the reference. The same mass hung from "
        "the middle "
        "of the dash bar, a gauge at the middle and one at each end, gives the bar ends their measured "
        "stiffness.",
    ]
    if hang.mass_kg > 12.0:
        notes.insert(0, f"{hang.mass_kg:.1f} kg is much to hang by hand: print the card with a longer arm.")
    return notes
