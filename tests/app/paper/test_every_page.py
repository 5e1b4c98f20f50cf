"""Every sheet of every sample on A4 and Letter: nothing off the page, no words over words, no empty page."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
import shapely

from app.paper.job import PaperJob
from app.paper.page import Page, Picture, Stroke, Words
from app.paper.paper_file import paper_pages
from app.paper.paper_names import PaperName, SheetName
from app.paper.pdf import width_mm
from geometry.bracket import Bracket
from geometry.plate import Corner, FoldLine, Hole, Plate
from tests.app.paper.papers import DATE, NAMES, job_of

SHEETS: tuple[SheetName, ...] = ("measuring", "template", "drawing", "assembly", "proof")
EDGE_MM = 5.0
"""What most printers cannot print on."""


def words_box(words: Words) -> shapely.Polygon:
    """Return where letters stand, a little less than they are high."""
    long = width_mm(words.words, words.size_mm, words.bold)
    left = {"left": 0.0, "middle": -long / 2.0, "right": -long}[words.across]
    places = [
        (left, 0.0),
        (left + long, 0.0),
        (left + long, -0.68 * words.size_mm),
        (left, -0.68 * words.size_mm),
    ]
    turn = math.radians(-words.angle_deg)
    c, s = math.cos(turn), math.sin(turn)
    x, y = words.at
    return shapely.Polygon([(x + a * c - b * s, y + a * s + b * c) for a, b in places])


def faults(page: Page) -> list[str]:
    """Return what is off the page or lies over something."""
    paper = shapely.box(EDGE_MM, EDGE_MM, page.width_mm - EDGE_MM, page.height_mm - EDGE_MM)
    found = []
    words = [m for m in page.marks if isinstance(m, Words) and m.words.strip()]
    boxes = [words_box(m) for m in words]
    found += [f"off the page: {m.words}" for m, b in zip(words, boxes, strict=True) if not paper.contains(b)]
    for mark in page.marks:
        if isinstance(mark, Stroke) and not all(paper.contains(shapely.Point(p)) for p in mark.places):
            found.append(f"line off the page: {mark.places[0]}")
        if isinstance(mark, Picture):
            x, y, w, h = mark.box
            if not paper.contains(shapely.box(x, y, x + w, y + h)):
                found.append("picture off the page")
    tree = shapely.STRtree(boxes)
    for i, j in tree.query(boxes, predicate="intersects").T:
        if i < j and boxes[i].intersection(boxes[j]).area > 0.2:
            found.append(f"{words[i].words!r} over {words[j].words!r}")
    return found


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("name", NAMES)
def test_nothing_is_cut_off_or_overlaps(name: str, sheet: SheetName, paper: PaperName) -> None:
    pages = paper_pages(job_of(name, paper), sheet)
    assert [fault for page in pages for fault in faults(page)] == []
    # more than the frame and foot that every page has
    assert all(sum(isinstance(m, Words) for m in page.marks) > 8 for page in pages)


@pytest.mark.parametrize("paper", ["A4", "A3", "Letter"])
def test_a_blank_measuring_sheet(paper: PaperName) -> None:
    pages = paper_pages(PaperJob(Bracket(), "", DATE, paper), "measuring")
    assert [fault for page in pages for fault in faults(page)] == []
    text = " ".join(m.words for page in pages for m in page.marks if isinstance(m, Words))
    assert "input hash" not in text
    assert "blank sheet" in text


def hard_bracket() -> Bracket:
    """Return a bracket with long names from strangers, a crowded outline, a long plate and many bolts."""
    bracket = job_of("marlpit_one_piece").bracket
    name = "a very long name of a plate that somebody typed without a thought, \u4e2d\u6587"
    steps = [(12.0 * k, 3.0 * (k % 2)) for k in range(40)]
    outline = (*(Corner(at_mm=p) for p in steps), Corner(at_mm=(468, 700)), Corner(at_mm=(0, 700)))
    plate = Plate(
        name=name,
        material=None,
        thickness_mm=3,
        outline=outline,
        openings=tuple(
            Hole(name=f"{name[:60]} {k}", centre_mm=(20 + 9 * k, 300), diameter_mm=6) for k in range(40)
        ),
        folds=tuple(
            FoldLine(
                name=f"{name[:70]} {k}",
                from_mm=(0, 400 + 40 * k),
                to_mm=(468, 400 + 40 * k),
                inside_radius_mm=3,
            )
            for k in range(5)
        ),
    )
    bolts = tuple(
        b.but(name=f"{name[:50]} {k} {b.name}", locking=name) for k in range(4) for b in bracket.bolts
    )
    return bracket.but(title=(name + " ") * 2, plates=(*bracket.plates, plate), bolts=bolts)


@pytest.mark.parametrize("sheet", SHEETS)
def test_long_names_and_large_plates_still_fit(sheet: SheetName) -> None:
    hard = hard_bracket()
    job = replace(
        job_of("x", bracket=hard), file="a_file_with_a_name_that_goes_on_and_on_and_on_and_on.bracket.json"
    )
    found = [fault for page in paper_pages(job, sheet) for fault in faults(page)]
    # openings nearer to each other than letters are wide cannot all be labelled clear of each other
    assert [f for f in found if "off the page" in f] == []
    if sheet in ("measuring", "assembly", "proof"):
        assert found == []
