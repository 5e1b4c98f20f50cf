"""Lengths to buy, by hand."""

from __future__ import annotations

import pytest

from app.paper.bolts_to_buy import bolts_to_buy, length_words, source_words, thread_mm
from geometry.bolt_tables import bolt_size
from geometry.bracket import Bracket
from geometry.casing import Boss
from geometry.fixing import Spacer
from tests.app.paper.papers import sample


def with_boss(**changes: object) -> Bracket:
    bracket = sample("gauge_tray")
    assert bracket.casing is not None
    bosses = tuple(Boss.model_validate(b.model_dump() | changes) for b in bracket.casing.bosses)
    return bracket.but(casing=bracket.casing.but(bosses=bosses))


def test_into_a_boss() -> None:
    # M8: washer 1.6 and sheet 2 are 3.6; 16 engaged in aluminium make 19.6, so 20, which ends 1.6 above the
    # end of 18 mm of thread
    bought = bolts_to_buy(sample("gauge_tray"))["1"]
    assert bought.clamp_mm == pytest.approx(3.6)
    assert bought.length_mm == 20.0
    assert bought.words == "clamps 3.6 mm, engages 16.0 mm in cast aluminium"


@pytest.mark.parametrize(
    ("changes", "length", "words"),
    [
        ({"metal": "steel"}, 12.0, "engages 8.0 mm in steel"),  # 3.6 + 8 = 11.6
        ({"metal": "cast iron"}, 16.0, "engages 10.0 mm in cast iron"),  # 3.6 + 10 = 13.6
        # 12 deep, a thread kept off the ground: 10.75 and 3.6 leave 14.35, so 12 is the longest
        ({"depth_mm": 12}, 12.0, "leave it 8.4 mm, less than the 16.0 mm usual"),
        ({"depth_mm": 3}, None, "no length sold fits 3 mm"),
        ({"depth_mm": None}, 20.0, "depth of thread unknown"),
    ],
)
def test_other_bosses(changes: dict[str, object], length: float | None, words: str) -> None:
    bought = bolts_to_buy(with_boss(**changes))["1"]
    assert bought.length_mm == length
    assert words in bought.words


@pytest.mark.parametrize(
    ("spacer_mm", "length", "jams"),
    [
        (62.0, 90.0, True),  # clamps 65.6, engages 16: 81.6, so 90. 24.4 beyond; M8 has 2 x 8 + 6 of thread
        (70.0, 90.0, False),  # clamps 73.6: 89.6, so 90, and 16.4 are within the 22
        (8.0, 30.0, False),
    ],
)
def test_a_long_bolt_whose_shank_would_reach_into_the_thread_is_told(
    spacer_mm: float, length: float, jams: bool
) -> None:
    bracket = with_boss(depth_mm=60)
    spacer = Spacer(outer_mm=16, inner_mm=8.4, length_mm=spacer_mm)
    bought = bolts_to_buy(bracket.with_bolt(bracket.bolt("1").but(spacer=spacer)))["1"]
    assert bought.length_mm == length
    assert ("threaded to the head" in bought.words) == jams
    assert ("thread of 24.4 mm at least, more than the 22.0 mm" in bought.words) == jams


def test_thread_of_a_bolt_with_a_shank() -> None:
    assert thread_mm(100.0, bolt_size("M10")) == 26.0
    assert thread_mm(130.0, bolt_size("M10")) == 32.0
    assert thread_mm(100.0, bolt_size("3/8-16")) == pytest.approx(25.4)


def test_a_locking_washer_is_told_not_to_be_in_the_length() -> None:
    bracket = sample("gauge_tray")
    wedged = bracket.with_bolt(bracket.bolt("1").but(locking="wedge-locking washer"))
    assert bolts_to_buy(wedged)["1"].words.endswith("the locking washer is not counted: add its thickness")
    assert bolts_to_buy(wedged)["1"].length_mm == bolts_to_buy(bracket)["1"].length_mm
    assert "locking washer" not in bolts_to_buy(bracket)["1"].words


def test_through_a_nut() -> None:
    # washer 1.6, sheet 2, wall 3 are 6.6; locking nut 9.5 and two threads 2.5: 18.6, so 20
    bought = bolts_to_buy(sample("gauge_tray"))["4"]
    assert bought.clamp_mm == pytest.approx(6.6)
    assert bought.beyond_mm == pytest.approx(12.0)
    assert bought.length_mm == 20.0
    plain = sample("gauge_tray").bolt("4").but(locking="thread lock")
    # a plain nut is 6.8: 15.9, so 16
    assert bolts_to_buy(sample("gauge_tray").with_bolt(plain))["4"].length_mm == 16.0


def test_between_two_plates_there_are_two_washers() -> None:
    bracket = sample("two_piece_bolted")
    joint = next(b for b in bracket.bolts if b.joins.to == "hole")
    size = bolt_size(joint.size)
    assert bolts_to_buy(bracket)[joint.name].clamp_mm == pytest.approx(12.0 + 2.0 * size.washer_thickness_mm)


def test_inch_lengths_are_written_as_they_are_sold() -> None:
    bracket = sample("imperial_flat")
    for name, bought in bolts_to_buy(bracket).items():
        assert bought.length_mm is not None
        assert bought.length_mm / 25.4 * 8.0 == pytest.approx(round(bought.length_mm / 25.4 * 8.0))
        assert bought.length_mm >= bought.clamp_mm + bought.beyond_mm - 1e-6 or "less than" in bought.words, (
            name
        )
    size = bolt_size("5/16-18")
    assert length_words(31.75, size) == "5/16-18 x 1 1/4 in"
    assert length_words(25.4, size) == "5/16-18 x 1 in"
    assert length_words(15.875, size) == "5/16-18 x 5/8 in"
    assert length_words(25.0, bolt_size("M8")) == "M8 x 25"


@pytest.mark.parametrize(
    ("name", "named", "not_named"),
    [("imperial_flat", "ASME B18.2.2", "ISO"), ("marlpit_one_piece", "ISO 4017", "ASME")],
)
def test_the_source_named_is_that_of_the_threads_there_are(name: str, named: str, not_named: str) -> None:
    told = source_words(sample(name))
    assert named in told
    assert not_named not in told
    assert told.endswith("(from memory, to be verified)")
