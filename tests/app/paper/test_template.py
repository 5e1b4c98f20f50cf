"""The template: tiles cover the plate, overlaps fit, bars are 100 mm, measured in print too."""

from __future__ import annotations

import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely
from PIL import Image

from app.cutting.cut_lines import cut_lines
from app.paper.flat_marks import flat_marks
from app.paper.page import Page, Stroke, Words
from app.paper.paper_file import paper_bytes, paper_pages
from app.paper.paper_names import PaperName
from app.paper.tiles import OVERLAP_MM, shown, tiles_of
from app.wording.figures import Units
from geometry.bracket import Bracket
from geometry.plate import Corner, FoldLine, Hole, Plate
from tests.app.paper.papers import NAMES, job_of

DPI = 300
_PDFTOPPM = shutil.which("pdftoppm")


def bars(page: Page) -> tuple[list[float], list[float]]:
    """Return the lengths of straight lying and upright lines that are about 100 mm long."""
    lying, upright = [], []
    for mark in page.marks:
        if isinstance(mark, Stroke) and len(mark.places) == 2:
            (x0, y0), (x1, y1) = mark.places
            if abs(abs(x1 - x0) - 100.0) < 1.0 and y0 == y1:
                lying.append(abs(x1 - x0))
            if abs(abs(y1 - y0) - 100.0) < 1.0 and x0 == x1:
                upright.append(abs(y1 - y0))
    return lying, upright


@pytest.mark.parametrize("paper", ["A4", "A3", "Letter"])
@pytest.mark.parametrize("name", NAMES)
def test_every_page_has_both_bars(name: str, paper: PaperName) -> None:
    for page in paper_pages(job_of(name, paper), "template"):
        lying, upright = bars(page)
        assert 100.0 in lying
        assert 100.0 in upright


@pytest.mark.parametrize("size", [(50.0, 50.0), (204.0, 208.0), (600.0, 900.0), (170.0, 1000.0)])
def test_tiles_cover_and_overlap(size: tuple[float, float]) -> None:
    tiles = tiles_of(*size, 180.0, 240.0)
    covered = shapely.union_all([shapely.box(t.x_mm, t.y_mm, t.x_mm + 180, t.y_mm + 240) for t in tiles])
    assert covered.contains(shapely.box(0, 0, *size))
    by_place = {(t.row, t.column): t for t in tiles}
    for t in tiles:
        if right := by_place.get((t.row, t.column + 1)):
            assert right.x_mm == pytest.approx(t.x_mm + 180 - OVERLAP_MM)
        if below := by_place.get((t.row + 1, t.column)):
            assert below.y_mm == pytest.approx(t.y_mm + 240 - OVERLAP_MM)
    # no more pages than it takes
    assert (max(t.column for t in tiles)) * (180 - OVERLAP_MM) < size[0]
    assert len({t.name for t in tiles}) == len(tiles)


def test_all_of_the_plate_is_on_some_tile() -> None:
    plate = job_of("gauge_tray").bracket.plate("tray")
    drawn = flat_marks(plate, cut_lines(plate))
    outline = Stroke(drawn.outline.places, closed=True)
    whole = shapely.LinearRing(outline.places)
    tiles = tiles_of(drawn.width_mm, drawn.height_mm, 120.0, 150.0)
    pieces = [
        shapely.LineString([(x + t.x_mm, y + t.y_mm) for x, y in piece.places])
        for t in tiles
        for piece in shown([outline], t)
        if isinstance(piece, Stroke)
    ]
    assert whole.difference(shapely.union_all(pieces).buffer(1e-6)).length < 1e-3


def test_diamonds_of_neighbours_are_at_the_same_place_of_the_plate() -> None:
    pages = paper_pages(job_of("gauge_tray"), "template")
    assert len(pages) == 2
    middles = []
    for page in pages:
        diamonds = [
            m for m in page.marks if isinstance(m, Stroke) and m.closed and len(m.places) == 4 and _square(m)
        ]
        assert len(diamonds) == 2
        middles.append(np.mean(diamonds[0].places, axis=0))
    # the second page's own left border is where the first one's dashed line is
    dashed = next(m.places[0][0] for m in pages[0].marks if isinstance(m, Stroke) and m.line == "dashed")
    border = next(
        m.places[0][0] for m in pages[1].marks if isinstance(m, Stroke) and m.line == "hair" and m.closed
    )
    assert middles[0][0] - dashed == pytest.approx(middles[1][0] - border)


def _square(stroke: Stroke) -> bool:
    (x0, y0), (x1, y1), (x2, y2), _ = stroke.places
    return y0 == y2 and x1 == pytest.approx((x0 + x2) / 2.0) and abs(y1 - y0) == pytest.approx(2.0)


@pytest.mark.parametrize("name", NAMES)
def test_every_sheet_says_the_verdict_or_that_there_is_none_above_its_foot(name: str) -> None:
    job = job_of(name)
    for words, told in ((": PASS for 30 N.m", job), ("does not say whether", replace(job, results=None))):
        for page in paper_pages(told, "template"):
            written = [m for m in page.marks if isinstance(m, Words)]
            assert words in " ".join(m.words for m in written)
            assert max(m.at[1] for m in written) < page.height_mm - 5.0


@pytest.mark.parametrize("units", ["mm", "inch"])
@pytest.mark.parametrize("name", ["gauge_tray", "two_piece_bolted", "marlpit_one_piece"])
def test_what_stands_beside_one_hole_does_not_run_into_that_of_another(name: str, units: Units) -> None:
    for page in paper_pages(replace(job_of(name), units=units), "template"):
        told = [m for m in page.marks if isinstance(m, Words) and m.words.startswith("\u2300")]
        assert told
        rooms = []
        for m in told:
            long = 0.5 * m.size_mm * len(m.words)  # letters half as wide as high
            left = m.at[0] if m.across == "left" else m.at[0] - long
            rooms.append(shapely.box(left, m.at[1] - m.size_mm, left + long, m.at[1]))
        assert not [(a, b) for k, a in enumerate(rooms) for b in rooms[:k] if a.intersection(b).area > 0.0]


def test_where_holes_stand_close_their_sizes_are_told_and_their_names_left_out() -> None:
    corners = tuple(Corner(at_mm=p) for p in ((0, 0), (150, 0), (150, 60), (0, 60)))
    holes = tuple(
        Hole(name=f"a hole with a long name, number {k}", centre_mm=(15.0 + 20.0 * k, 30.0), diameter_mm=9)
        for k in range(7)
    )
    plate = Plate(name="p", material="S275", thickness_mm=3, outline=corners, openings=holes)
    (page,) = paper_pages(job_of("gauge_tray", bracket=Bracket(plates=(plate,))), "template")
    told = [m for m in page.marks if isinstance(m, Words) and m.words.startswith("\u2300")]
    assert len(told) == 7
    assert [m.words for m in told].count("\u23009") >= 3
    assert len({m.at for m in told}) == 7


@pytest.mark.parametrize(
    ("width", "units", "words"),
    [
        (120.0, "mm", "fold f: 60 deg down, inside radius 4 mm"),
        (120.0, "inch", "fold f: 60 deg down, inside radius 4 mm (0.157 in)"),
        (46.0, "mm", "60 deg down, inside radius 4 mm"),
        (40.0, "mm", "60 deg down, R4"),
        (14.0, "mm", "60 deg down"),
    ],
)
def test_a_fold_always_says_which_way_it_is_turned_and_its_radius_where_it_can(
    width: float, units: Units, words: str
) -> None:
    corners = tuple(Corner(at_mm=p) for p in ((0, 0), (width, 0), (width, 80), (0, 80)))
    fold = FoldLine(
        name="f", from_mm=(0, 40), to_mm=(width, 40), angle_deg=60, direction="down", inside_radius_mm=4
    )
    plate = Plate(name="p", material="S275", thickness_mm=3, outline=corners, folds=(fold,))
    job = replace(job_of("gauge_tray", bracket=Bracket(plates=(plate,))), units=units)
    (page,) = paper_pages(job, "template")
    assert [m.words for m in page.marks if isinstance(m, Words) and "60 deg" in m.words] == [words]


@pytest.mark.skipif(_PDFTOPPM is None, reason="pdftoppm is not installed")
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_printed_it_is_one_to_one(paper: PaperName, tmp_path: Path) -> None:
    """The bars and the plate measured in a picture of the page, within a tenth of a millimetre."""
    job = job_of("marlpit_one_piece", paper)
    (tmp_path / "t.pdf").write_bytes(paper_bytes(job, "template"))
    subprocess.run(
        [_PDFTOPPM or "", "-r", str(DPI), "-gray", "-singlefile", "t.pdf", "t"], cwd=tmp_path, check=True
    )
    dark = np.asarray(Image.open(tmp_path / "t.pgm")) < 128
    per_mm = DPI / 25.4
    (page,) = paper_pages(job, "template")
    bar = next(
        m for m in page.marks
        if isinstance(m, Stroke) and len(m.places) == 2 and m.places[0][1] == m.places[1][1]
        and m.places[1][0] - m.places[0][0] == 100.0
    )  # fmt: skip
    # just below the bar only its end ticks reach so far
    row = round((bar.places[0][1] + 1.8) * per_mm)
    ticks = np.flatnonzero(dark[row, : round(130 * per_mm)])
    assert (ticks.max() - ticks.min()) / per_mm == pytest.approx(100.0, abs=0.2 + 0.1)
    left, right = _middles(ticks)
    assert (right - left) / per_mm == pytest.approx(100.0, abs=0.1)
    # the plate's own width, 152 mm, on the level of its upper holes
    plate = job.bracket.plates[0]
    drawn = flat_marks(plate, cut_lines(plate))
    outline = next(
        m
        for m in page.marks
        if isinstance(m, Stroke) and m.closed and len(m.places) == len(drawn.outline.places)
    )
    top = min(p[1] for p in outline.places)
    level = np.flatnonzero(dark[round((top + 60.0) * per_mm)])
    inside = [x for x in _middles(level) if 15 * per_mm < x < (page.width_mm - 20) * per_mm]
    assert (inside[-1] - inside[0]) / per_mm == pytest.approx(152.0, abs=0.1)


def _middles(pixels: np.ndarray) -> list[float]:
    """Return the middle of each run of neighbouring dark pixels."""
    runs = np.split(pixels, np.flatnonzero(np.diff(pixels) > 1) + 1)
    return [float(run.mean()) + 0.5 for run in runs]
