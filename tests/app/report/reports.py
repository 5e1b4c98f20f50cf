"""Reports for tests: invented results in place of an analysis, and a field of stress on a real mesh."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from app.paper.paper_names import PaperName
from app.paper.pdf import ready
from app.record.comparison import Judgements, compare
from app.record.open_items import open_items, standing_of
from app.record.record import Record
from app.report.job import RecordPart, ReportJob
from app.report.judged_file import JudgedFile, as_judged
from app.report.making import job_of
from app.wording.figures import Units
from geometry.bracket import Bracket
from geometry.findings import findings_of
from geometry.placing import footprints_of, place_bolts
from geometry.plate_mesh import mesh_plate
from solver.results import PlateField, Results
from tests.app.example_results import example_bracket, example_results
from tests.app.record.examples import PROFILE

FILE = "marlpit.bracket.json"
ALLOWABLE_MPA = 100.0


def plain_results(bracket: Bracket, **changes: object) -> Results:
    """Return invented results of a bracket, without fields."""
    given = {"hash": bracket.input_hash(), "plates": (), "findings": ()} | changes
    return replace(example_results(), **given)  # type: ignore[arg-type]


def report_job(
    bracket: Bracket | None = None,
    results: Results | None = None,
    *,
    file: str = FILE,
    part: RecordPart | None = None,
    record_content: bytes | None = None,
    paper: PaperName = "A4",
    units: Units = "mm",
) -> ReportJob:
    """Return a report of the example, or of a bracket with the results given."""
    ready()
    bracket = bracket or example_bracket()
    known = JudgedFile(file, bracket=bracket)
    judged = as_judged(known, results or plain_results(bracket))
    return job_of(judged, file=file, part=part, record_content=record_content, paper=paper, units=units)


def unsolved_job(bracket: Bracket, paper: PaperName = "A4") -> ReportJob:
    """Return a report of a bracket that cannot be analysed."""
    ready()
    known = JudgedFile(FILE, bracket=bracket, findings=findings_of(bracket))
    return job_of(as_judged(known, None, "It cannot be analysed."), file=FILE, paper=paper)


def record_part(record: Record, bracket: Bracket) -> RecordPart:
    """Return a record as it stands against invented results."""
    results = plain_results(bracket)
    items = open_items(record, results, bracket, PROFILE)
    judgements = Judgements(under_profile=results)
    standing = standing_of(record, items, results)
    return RecordPart(record, items, standing, compare(bracket, record, PROFILE, judgements))


def field_of(bracket: Bracket, least: float, most: float) -> PlateField:
    """Return a field on the first plate whose stress grows evenly along y, as shares of the allowable."""
    plate = bracket.plates[0]
    mesh = mesh_plate(plate, footprints_of(place_bolts(bracket), plate.name), 8.0)
    y = mesh.flat_points[mesh.vertex_nodes, 1]
    share = (y - y.min()) / (y.max() - y.min())
    stress = (least + (most - least) * share) * ALLOWABLE_MPA
    return PlateField(
        plate.name,
        mesh,
        np.zeros((len(mesh.points), 3)),
        stress,
        ALLOWABLE_MPA,
        np.ones(len(y), dtype=bool),
        "couple one way",
    )
