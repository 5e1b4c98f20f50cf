"""What is done with a stranger's bracket: read, told, placed, drawn, written out, and some of them solved."""

from __future__ import annotations

import math
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final
from xml.etree import ElementTree

import numpy as np

from app.cli.mesh_file import mesh_paths
from app.compare.input_words import things_of
from app.compare.makings import makings_of
from app.cutting.cut_dxf import cut_dxf
from app.cutting.cut_file import CutFileError, write_cut
from app.cutting.cut_lines import cut_lines
from app.editing.outline_import import outline_in
from app.editing.refused import EditRefused
from app.ladder.ladder_csv import ladder_csv
from app.ladder.rung import Rung, unanswered
from app.ladder.steps import Ladder
from app.lesson.figures import figures_of
from app.mounted.scene import Scene
from app.paper.job import PaperJob
from app.paper.measuring import measuring_pages
from app.paper.template import TemplateError, template_pages
from app.record.loosenings import loosenings_of
from app.report.attached import read_any
from app.window.lists.note_lines import note_lines
from app.window.lists.part_rows import part_rows
from geometry.bracket import Bracket
from geometry.bracket_file import bracket_of, read_bracket
from geometry.file_writing import bracket_text
from geometry.finding import Finding
from geometry.finding_words import sentence
from geometry.findings import can_be_analysed, findings_of
from geometry.flat_pattern import flat_pattern
from geometry.flat_segments import ShapeError
from geometry.placing import place_bolts
from solver.analyse import analyse, can_be_solved
from solver.around.around import around
from solver.errors import SolverError
from solver.linkage import linkage_of
from solver.load_cases import load_cases
from tests.fuzz.promises import clear, demand

MOST_DRAWN: Final = 12
"""Plates of a bracket that are cut and drawn: a file may hold two hundred."""


@dataclass(frozen=True)
class Known:
    """What a bracket's steps work on."""

    bracket: Bracket
    findings: tuple[Finding, ...]
    folder: Path


def read(path: Path, folder: Path, number: int) -> str:
    """Read a bracket file and go through all that follows; return `read` or `refused`."""
    reading = read_bracket(path)
    clear(reading.sentences)
    if reading.bracket is None:
        demand(bool(reading.findings), "no bracket and no word why")
        return "refused"
    _same_again(reading.bracket, clean=not any(f.severity in ("stop", "doubt") for f in reading.findings))
    found = findings_of(reading.bracket)
    clear(sentence(finding) for finding in found)
    known = Known(reading.bracket, found, folder)
    for step in (*STEPS, *(SELDOM if number % 10 == 0 else ())):
        step(known)
    return "read"


def solved(path: Path, folder: Path, number: int) -> str:
    """Read a bracket file and judge it; what cannot be solved is refused in a sentence."""
    reading = read_any(path)
    if reading.bracket is None:
        return "refused"
    try:
        results = analyse(reading.bracket, refine=number % 3 == 0)
    except SolverError as error:
        clear([str(error)])
        return "refused"
    clear(results.reasons)
    sound = can_be_analysed(results.findings)
    demand(sound or results.verdict in ("no verdict", "fail"), f"a verdict {results.verdict} over a stop")
    for check in results.checks:
        demand(not math.isnan(check.used), f"no number in check {check.name}")
    return "read"


def _same_again(bracket: Bracket, *, clean: bool) -> None:
    """Hold that what was read is saved and read again as the same."""
    text = bracket_text(bracket)
    again = bracket_of(text.encode("utf-8"))
    demand(again.bracket is not None, f"saved and not read again: {again.sentences[:1]}")
    demand(again.bracket == bracket, "saved and read again as another")
    if clean:
        demand(not again.findings, f"saved and read again with findings: {again.sentences[:1]}")


def _placed(known: Known) -> None:
    places = place_bolts(known.bracket)
    for place in places:
        demand(bool(np.isfinite(place.mating_mm).all()), f"bolt {place.bolt} stands nowhere")
    if can_be_solved(known.bracket, known.findings, places):
        load_cases(known.bracket)
        linkage_of(known.bracket, places)


def _flat(known: Known) -> None:
    for plate in known.bracket.plates[:MOST_DRAWN]:
        with suppress(ShapeError):
            pattern = flat_pattern(plate)
            demand(all(map(math.isfinite, pattern.polygon.bounds)), "a pattern without bounds")


def _cut(known: Known) -> None:
    """Hold that a cutter's file is one, and that the program takes the plate's outline out of it again."""
    plates = known.bracket.plates[:MOST_DRAWN]
    for ending in (".svg", ".dxf"):
        paths = mesh_paths(known.folder / f"out{ending}", tuple(plate.name for plate in plates))
        for number, (plate, path) in enumerate(zip(plates, paths, strict=True)):
            demand(path.parent == known.folder, f"a cut file outside its folder: {path}")
            if ending == ".dxf" and number:
                break  # the library takes long
            try:
                write_cut(plate, path)
            except CutFileError as error:
                clear([str(error)])
                continue
            _told_again(path, plate, known)


def _told_again(path: Path, plate: Any, known: Known) -> None:  # noqa: ANN401
    content = path.read_bytes()
    path.unlink()
    if path.suffix == ".svg":
        root = ElementTree.fromstring(content)
        tags = {element.tag.rpartition("}")[2] for element in root.iter()}
        demand(
            tags <= {"svg", "title", "desc", "g", "path", "circle", "text"}, f"an element slipped in: {tags}"
        )
    if not can_be_analysed(known.findings) or plate.openings:
        return
    try:
        again = outline_in(content, path.name)
    except EditRefused:
        return  # narrower than what the program takes for one line
    width, height = again.size_mm("mm")
    low_x, low_y, high_x, high_y = flat_pattern(plate).polygon.bounds
    off = max(abs(width - (high_x - low_x)), abs(height - (high_y - low_y)))
    demand(off < 0.1 + 1e-3 * max(width, height), f"cut out {off:g} mm other than drawn")


def _older(known: Known) -> None:
    for plate in known.bracket.plates[:1]:
        with suppress(ShapeError):
            cut_dxf(cut_lines(plate), older=True)


def _listed(known: Known) -> None:
    note_lines(known.bracket)
    part_rows(known.bracket)
    loosenings_of(known.bracket)
    things_of(known.bracket)
    makings_of(known.bracket)
    figures_of(known.bracket, 10.0)


def _laddered(known: Known) -> None:
    """Hold that no name in a ladder's list is live; a ladder quotes names in its reasons."""
    names = [p.name for p in known.bracket.plates] + [b.name for b in known.bracket.bolts]
    rungs = [
        Rung(
            values=(),
            answer=unanswered(name).model_copy(update={"reason": name, "governs": name}),
            said=(name,),
        )
        for name in (*names[:20], known.bracket.title)
    ]
    from tests.fuzz.promises import still_cells

    still_cells(ladder_csv(Ladder(known.bracket, (), ()), rungs))


def _mounted(known: Known) -> None:
    scene = Scene()
    scene.show(known.bracket)
    scene.frame()
    scene.items()


def _around(known: Known) -> None:
    around(known.bracket)


def _on_paper(known: Known) -> None:
    job = PaperJob(known.bracket, "file.bracket.json", "2031-04-30")
    measuring_pages(job, _width)
    with suppress(ShapeError, TemplateError):
        template_pages(job, _width)


def _width(words: str, size_mm: float, _bold: bool) -> float:
    return 0.55 * size_mm * len(words)


STEPS: Final[tuple[Callable[[Known], None], ...]] = (_placed, _flat, _listed, _laddered)
SELDOM: Final[tuple[Callable[[Known], None], ...]] = (_around, _cut, _older, _mounted, _on_paper)
"""Slower: for a tenth of the brackets."""
