"""What is dimensioned of a flat pattern: enough to make it, and nothing that is not there."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from app.cutting.cut_lines import cut_lines
from app.paper.drawing import drawing_pages
from app.paper.flat_drawing import flat_drawing
from app.paper.job import PaperJob
from app.paper.outline_places import arc_middles
from app.paper.page import Words
from app.paper.paper_file import paper_pages
from app.paper.pdf import width_mm
from app.wording.weld_words import way_words
from geometry.bracket import Bracket
from geometry.plate import Corner, FoldLine, Plate
from tests.app.paper.papers import job_of, sample


def dimensions(plate: Plate) -> tuple[set[str], set[str]]:
    """Return what stands at the running dimensions: across (written upright), and up."""
    bracket = Bracket(plates=(plate,))
    marks = flat_drawing(bracket, plate, cut_lines(plate), 1.0).marks
    words = [m for m in marks if isinstance(m, Words) and m.words.replace(".", "").isdigit()]
    return {m.words for m in words if m.angle_deg == 90.0}, {m.words for m in words if m.angle_deg == 0.0}


def told(plate: Plate) -> str:
    """Return all words on the first sheet of a plate's drawing."""
    job = PaperJob(Bracket(plates=(plate,)), "p.bracket.json", "2026-11-25")
    pages = drawing_pages(job, lambda text, size, _bold: 0.5 * size * len(text))
    return " ".join(m.words for m in pages[0].marks if isinstance(m, Words))


def a_plate(*corners: Corner) -> Plate:
    """Return a plate of that outline."""
    return Plate(name="p", material="S235", thickness_mm=5, outline=corners)


def test_a_rounded_tip_has_the_middle_of_its_radius_and_how_far_it_reaches() -> None:
    places = ((0.0, 0.0), (100.0, 0.0), (50.0, 80.0))
    gusset = a_plate(*(Corner(at_mm=p, radius_mm=10) for p in places))
    # half the lower angles is atan(80/50)/2: the middle lies 10/tan of it from the corner, 10 above the edge
    beside = 10.0 / math.tan(math.atan2(80.0, 50.0) / 2.0)
    # and that of the tip 10/sin of half its angle under it
    below = 10.0 / math.sin(math.atan2(50.0, 80.0))
    low = beside - 10.0  # the outline's own left edge
    across, up = dimensions(gusset)
    assert across == {f"{round(v - low, 2):g}" for v in (low, beside, 50.0, 100.0 - beside, 100.0 - low)}
    assert up == {f"{round(v, 2):g}" for v in (10.0, 80.0 - below, 80.0 - below + 10.0)}
    middles = arc_middles(gusset, cut_lines(gusset))
    assert sorted(middles) == [
        pytest.approx(p) for p in ((beside, 10.0), (50.0, 80.0 - below), (100.0 - beside, 10.0))
    ]


def test_the_drawing_says_what_the_crosses_are() -> None:
    gusset = a_plate(*(Corner(at_mm=p, radius_mm=10) for p in ((0, 0), (100, 0), (50, 80))))
    square = a_plate(*(Corner(at_mm=p, radius_mm=10) for p in ((0, 0), (100, 0), (100, 80), (0, 80))))

    assert "middle of its radius" in told(gusset)
    assert "middle of its radius" not in told(square)
    assert dimensions(square) == ({"0", "100"}, {"0", "80"})


def test_an_arc_is_dimensioned_at_its_ends_and_where_it_reaches_farthest_alone() -> None:
    moon = a_plate(
        Corner(at_mm=(0, 0), arc_via_mm=(50, -40)),
        Corner(at_mm=(100, 0)),
        Corner(at_mm=(100, 60), radius_mm=8),
        Corner(at_mm=(0, 60)),
    )
    assert dimensions(moon) == ({"0", "50", "100"}, {"0", "40", "100"})
    marks = flat_drawing(Bracket(plates=(moon,)), moon, cut_lines(moon), 1.0).marks
    (radius,) = (m for m in marks if isinstance(m, Words) and m.words == "R51.25")
    runs_at = 20.0 + 100.0 + 6.0  # the line of the dimensions below the plate
    assert radius.at[1] < runs_at - 0.5 or radius.at[1] - radius.size_mm > runs_at + 0.5


def test_an_arc_that_bulges_sideways_is_dimensioned_there() -> None:
    # radius 25 about (100, 30): 15, 20, 25
    bay = a_plate(
        Corner(at_mm=(0, 0)),
        Corner(at_mm=(85, 0)),
        Corner(at_mm=(85, 10), arc_via_mm=(125, 30)),
        Corner(at_mm=(85, 50)),
        Corner(at_mm=(85, 60)),
        Corner(at_mm=(0, 60)),
    )
    across, up = dimensions(bay)
    assert across == {"0", "85", "100", "125"}  # top and bottom of the arc at its middle's x
    assert up == {"0", "5", "10", "30", "50", "55", "60"}


def test_what_stands_at_a_fold_keeps_off_the_edge_where_it_can() -> None:
    strap = a_plate(*(Corner(at_mm=p) for p in ((0, 0), (30, 0), (30, 90), (0, 90))))
    fold = FoldLine(
        name="f", from_mm=(0, 45), to_mm=(30, 45), angle_deg=45, direction="down", inside_radius_mm=5
    )
    plate = strap.with_fold(fold)
    marks = flat_drawing(Bracket(plates=(plate,)), plate, cut_lines(plate), 1.0).marks
    (told,) = (m for m in marks if isinstance(m, Words) and "45" in m.words)
    assert told.words == "F1 45\u00b0 down"
    assert told.across == "middle"
    half = 0.25 * told.size_mm * len(told.words)  # letters half as wide as high
    assert told.at[0] - half > 20.0  # the plate's left edge stands 20 mm from the figure's
    assert told.at[0] + half < 50.0


def test_a_folded_plate_says_which_way_is_up_and_how_it_lies_on_the_sheet() -> None:
    strap = a_plate(*(Corner(at_mm=p) for p in ((0, 0), (30, 0), (30, 90), (0, 90))))
    folded = strap.with_fold(FoldLine(name="f", from_mm=(0, 45), to_mm=(30, 45), inside_radius_mm=5))
    for words in ("Up is toward you", "across the grain", "the punch comes down on the fold line"):
        assert words in told(folded)
        assert words not in told(strap)


def test_the_notes_of_a_plate_with_four_folds_are_on_its_own_sheet() -> None:
    pages = paper_pages(job_of("gauge_tray"), "drawing")
    assert len(pages) == 2  # the plate and the bracket as mounted


def test_a_weld_says_where_on_the_edge_it_begins_and_ends() -> None:
    bracket = sample("sluice_welded")
    (weld,) = bracket.welds
    # the casing plate's left edge stands at x = -76, its lowest at y = -46: the weld is 100 mm of the 152
    short = weld.but(from_mm=(-60.0, weld.from_mm[1]), to_mm=(40.0, weld.to_mm[1]))
    pages = paper_pages(job_of("sluice_welded", bracket=bracket.but(welds=(short,))), "drawing")
    words = " ".join(m.words for m in pages[0].marks if isinstance(m, Words))
    assert f"100 mm, casing plate to foot plate; from 16, {weld.from_mm[1] + 46:g} to 116" in words


def test_a_plate_says_on_which_face_another_is_welded_where_and_which_way_about() -> None:
    # the foot lies along X and Z, its front down; the casing plate stands on it, 6 mm from z = 0 to its front
    bracket = sample("sluice_welded_neck")
    foot = bracket.plate("foot plate")
    left, low = (min(c.at_mm[k] for c in foot.outline) for k in (0, 1))
    pages = paper_pages(job_of("sluice_welded_neck", bracket=bracket), "drawing")
    words = " ".join(m.words for m in pages[1].marks if isinstance(m, Words))
    stands = "casing plate stands on the front, its own front toward the upper edge, the middle of its edge"
    assert f"{stands} from {-18 - left:g}, {3 - low:g} to {18 - left:g}, {3 - low:g}." in words


@pytest.mark.parametrize(
    ("turned_deg", "words"),
    [
        (0.0, "right edge"),
        (45.0, "upper right"),
        (90.0, "upper edge"),
        (190.0, "left edge"),
        (300.0, "lower right"),
    ],
)
def test_a_direction_on_a_drawing_in_words(turned_deg: float, words: str) -> None:
    turn = math.radians(turned_deg)
    assert way_words(math.cos(turn), math.sin(turn)) == words


def test_the_words_at_a_narrow_weld_keep_off_the_running_dimensions() -> None:
    bracket = sample("sluice_welded_neck")
    plate = bracket.plate("casing plate")
    marks = flat_drawing(bracket, plate, cut_lines(plate), 0.5).marks
    (told,) = (m for m in marks if isinstance(m, Words) and m.words.startswith("weld "))
    # the plate's upper edge stands 20 mm from the top of the figure, the line of the run 6 mm above that
    assert told.at[1] < 20.0 - 1.2
    assert told.at[1] - told.size_mm > 14.0


def test_a_long_title_and_file_are_told_to_their_ends_in_the_title_block() -> None:
    """Two brackets whose names part at the end must not be one and the same on the sheet."""
    long = "Marlpit roadster, left-hand drive, one piece with a deeper foot and six bolts, third try"
    bracket = sample("marlpit_one_piece").but(title=long)
    job = replace(job_of("marlpit_one_piece", bracket=bracket), file=f"{'marlpit_' * 7}3.bracket.json")
    marks = [m for m in drawing_pages(job, width_mm)[0].marks if isinstance(m, Words)]
    caption = next(m for m in marks if m.words == "title")
    under = [m for m in marks if m.at[0] == caption.at[0] and 0.0 < m.at[1] - caption.at[1] < 6.5]
    assert " ".join(m.words for m in sorted(under, key=lambda m: m.at[1])) == long
    assert all(width_mm(m.words, m.size_mm, False) <= 90.0 for m in under)
    caption = next(m for m in marks if m.words == "file")
    under = [m for m in marks if m.at[0] == caption.at[0] and 0.0 < m.at[1] - caption.at[1] < 6.5]
    assert "".join(m.words for m in sorted(under, key=lambda m: m.at[1])) == job.file


def test_what_has_no_room_in_the_title_block_ends_in_dots() -> None:
    bracket = sample("marlpit_one_piece").but(title="W" * 200)
    marks = [
        m
        for m in drawing_pages(job_of("marlpit_one_piece", bracket=bracket), width_mm)[0].marks
        if isinstance(m, Words)
    ]
    assert any(m.words.endswith("\u2026") for m in marks)
