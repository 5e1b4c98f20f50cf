"""Proof card and assembly card: the mass, the place of the gauge, the order of bolts."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest

from app.paper.assembly import tightening_order
from app.paper.job import computed_words
from app.paper.page import Picture, Stroke, Words
from app.paper.paper_file import paper_pages
from app.paper.pdf import PaperError
from app.paper.proof import band_words
from app.paper.proof_sketch import proof_sketch
from geometry.bracket import Bracket
from geometry.loads import StatedCouple
from geometry.placing import place_bolts
from solver.proof_places import gauge_place, hang_of
from solver.proof_readings import Expected
from solver.results import Verdict
from tests.app.paper.papers import NAMES, computed, job_of, sample


def text_of(name: str, **changes: object) -> str:
    bracket = sample(name).but(**changes)
    pages = paper_pages(job_of(name, bracket=bracket), "proof")
    # a page for every place worth gauging
    assert len(pages) == sum(
        any(isinstance(m, Words) and m.words.startswith("Proof card") for m in page.marks) for page in pages
    )
    return " ".join(m.words for m in pages[0].marks if isinstance(m, Words))


def test_30_newton_metres_on_a_level_shaft_are_6_1_kg_at_500_mm() -> None:
    level = {
        "rake_deg": 0.0,
        "loads": sample("marlpit_one_piece").loads.but(couple=StatedCouple(couple_nm=30)),
    }
    text = text_of("marlpit_one_piece", **level)
    assert "Hang 6.1 kg at 500 mm: 29.9 N.m about the shaft." in text
    assert "raked" not in text


def test_a_raked_shaft_takes_more_and_the_card_says_so() -> None:
    text = text_of("marlpit_one_piece")  # 30 N.m on 24 deg: 6.118 / cos 24 = 6.70
    assert "Hang 6.7 kg at 500 mm: 30.0 N.m about the shaft, which is raked by 24 deg." in text
    for words in (
        "no power",
        "Shafts free",
        "Hang left",
        "Set it to nought",
        "Nobody under the mass",
        "held, to",
    ):
        assert words in text


@pytest.mark.parametrize("name", NAMES)
def test_the_factor_is_left_out(name: str) -> None:
    bracket = sample(name)
    if bracket.loads.couple.value_nm is None:
        pytest.skip("its couple is blank")
    hang = hang_of(bracket, 500.0)
    assert hang.couple_nm == pytest.approx(bracket.loads.couple.value_nm, abs=0.3)
    assert hang_of(bracket, 1000.0).mass_kg == pytest.approx(hang.mass_kg / 2.0, abs=0.11)


def test_the_gauge_stands_on_the_casing_right_of_the_shaft() -> None:
    bracket = sample("gauge_tray")
    assert bracket.casing is not None
    gauge = gauge_place(bracket)
    assert gauge.at_mm == (47.0, 52.0, -30.0)
    assert gauge.along == (0.0, 1.0, 0.0)
    turned = bracket.but(casing=bracket.casing.but(clocking_deg=90.0))
    x, y, _ = gauge_place(turned).at_mm
    assert (x, y) == pytest.approx((47.0, 52.0))


def test_bands_are_rounded_outward() -> None:
    assert band_words(Expected(-0.0031, 0.0411, 0.591)) == "-0.01 to 0.05 held, to 0.60 slipped"
    assert band_words(Expected(0.02, 0.03, None)) == "0.02 to 0.03 held; slipped: only friction stops it"


def test_without_what_it_needs_the_card_is_a_sentence() -> None:
    bracket = sample("marlpit_one_piece")
    blank = bracket.but(loads=bracket.loads.but(couple=StatedCouple()))
    with pytest.raises(PaperError, match="the couple is blank"):
        paper_pages(job_of("x", bracket=blank), "proof")
    with pytest.raises(PaperError, match="no casing"):
        paper_pages(job_of("x", bracket=bracket.but(casing=None)), "proof")
    with pytest.raises(PaperError, match="has to be computed first"):
        paper_pages(replace(job_of("marlpit_one_piece"), results=None), "proof")
    stale = replace(computed(bracket), hash="0" * 64)
    with pytest.raises(PaperError, match="has to be computed first"):
        paper_pages(replace(job_of("marlpit_one_piece"), results=stale), "proof")


@pytest.mark.parametrize("name", NAMES)
def test_every_bolt_is_tightened_once_the_casing_last(name: str) -> None:
    bracket = sample(name)
    order = tightening_order(bracket)
    assert sorted(order) == sorted(b.name for b in bracket.bolts)
    kinds = [bracket.bolt(n).joins.to for n in order]
    assert "boss" not in kinds[: -kinds.count("boss")]


def card_of(name: str, bracket: Bracket) -> str:
    """Return the words of the assembly card."""
    pages = paper_pages(job_of(name, bracket=bracket), "assembly")
    return " ".join(m.words for page in pages for m in page.marks if isinstance(m, Words))


def test_thread_lock_is_told_before_any_bolt_is_put_in() -> None:
    bracket = sample("marlpit_one_piece")
    words = card_of("marlpit_one_piece", bracket)
    told = words.index("Thread lock goes on clean, dry threads before the bolt goes in (1, 2, 3)")
    assert told < words.index("Offer the plates up")
    nuts = bracket.but(bolts=tuple(bolt.but(locking="locking nut") for bolt in bracket.bolts))
    assert "Thread lock" not in card_of("marlpit_one_piece", nuts)


def test_welding_comes_before_any_bolt() -> None:
    words = card_of("sluice_welded", sample("sluice_welded"))
    told = words.index("Weld top (casing plate to foot plate) as the drawing has it")
    assert words.index("Deburr") < told < words.index("Offer the plates up")
    assert "Weld" not in card_of("marlpit_one_piece", sample("marlpit_one_piece"))


def test_across_and_across() -> None:
    bracket = sample("marlpit_one_piece")
    order = [n for n in tightening_order(bracket) if bracket.bolt(n).joins.to == "dash bar"]
    at = {p.bolt: p.mating_mm for p in place_bolts(bracket)}
    apart = [float(np.linalg.norm(at[a] - at[b])) for a, b in itertools.pairwise(order)]
    # never merely along the row: after an inner bolt the far end, then the other end
    assert apart[0] > 70.0
    assert apart[1] > 100.0


@pytest.mark.parametrize(
    ("verdict", "words"),
    [("fail", "FAIL for 30 N.m"), ("marginal", "MARGINAL for 30 N.m"), ("no verdict", "NO VERDICT for 30")],
)
def test_what_does_not_pass_says_so_boldly_before_the_order_of_assembly(verdict: Verdict, words: str) -> None:
    job = job_of("marlpit_one_piece")
    assert job.results is not None
    job = replace(job, results=replace(job.results, verdict=verdict))
    marks = [m for m in paper_pages(job, "assembly")[0].marks if isinstance(m, Words)]
    told = " ".join(m.words for m in itertools.takewhile(lambda m: m.words != "Order", marks) if m.bold)
    assert words in told
    assert "It is no approval" in told


def test_what_is_looser_than_usual_is_not_called_a_limit() -> None:
    """The limits of this bracket are the usual ones, and its report says so; its nuts are not."""
    job = job_of("marlpit_one_piece")
    assert job.results is not None
    told = computed_words(replace(job, results=replace(job.results, flagged=("the nut takes less",))))
    assert told.endswith("Looser than usual: the nut takes less.")
    assert "limits" not in told


def test_a_pass_is_not_spoken_boldly_on_the_assembly_card() -> None:
    marks = [m for m in paper_pages(job_of("marlpit_one_piece"), "assembly")[0].marks if isinstance(m, Words)]
    assert not any(m.bold and "PASS" in m.words for m in marks)


def test_the_card_shows_the_mounted_bracket() -> None:
    """The picture is there, with ink on it."""
    (picture,) = (
        m
        for p in paper_pages(job_of("quayside_side_plate"), "assembly")
        for m in p.marks
        if isinstance(m, Picture)
    )
    assert picture.png.startswith(b"\x89PNG")
    assert len(picture.png) > 20_000


def test_the_gauge_of_the_proof_covers_neither_dash_bar_nor_bracket() -> None:
    drawn = proof_sketch(6.6, 500.0, (49.0, 50.0, -31.0), 23.0, sideways=False).marks
    dial = next(m for m in drawn if isinstance(m, Stroke) and m.grey == 1.0)
    dial_low_x, dial_high_y = min(x for x, _ in dial.places), min(y for _, y in dial.places)
    medium = [m for m in drawn if isinstance(m, Stroke) and m.line == "medium" and m is not dial]
    bracket = next(m for m in medium if not m.closed and len(m.places) == 4)
    bar = min((m for m in medium if m.closed), key=lambda m: max(y for _, y in m.places))
    assert dial_high_y > max(y for _, y in bar.places)
    assert dial_low_x > max(x for x, _ in bracket.places)


def test_a_band_in_inches_is_rounded_outward_to_what_a_gauge_shows() -> None:
    """0.0254 mm is 0.001 in: -0.03 is -0.00118 in, 0.08 is 0.00315, 0.6 is 0.02362."""
    assert band_words(Expected(-0.03, 0.08, 0.6), "inch") == "-0.0012 to 0.0032 held, to 0.0237 slipped"
    assert band_words(Expected(-0.0254, 0.0254, None), "inch").startswith("-0.0010 to 0.0010 held")
