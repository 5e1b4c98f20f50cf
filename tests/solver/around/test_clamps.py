"""A clamp round the column's tube: when it slips, and that it never holds the casing alone."""

from __future__ import annotations

import math

import pytest

from app.window.lists.around_note_lines import around_note_lines
from app.window.lists.field import Drafts
from app.window.lists.setting import settle
from app.window.lists.typed import typed
from geometry.bracket import Bracket
from geometry.file_validation import validate
from geometry.finding_words import sentence
from geometry.installation import Collapse, Installation, ShaftPart
from geometry.tube_clamp import TubeClamp
from solver.analyse import analyse
from solver.around.around import around
from solver.around.line import AroundLine
from tests.brackets import one_piece, welded_strip

CLAMP = TubeClamp(name="upper", stations_mm=(-180, -150), tube_mm=50, bolts=2, preload_n=(8000, 12000))


def with_clamp(clamp: TubeClamp = CLAMP, collapse: Collapse | None = None) -> Bracket:
    return one_piece().but(installation=Installation(clamps=(clamp,), collapse=collapse))


def lines(bracket: Bracket) -> list[AroundLine]:
    return [line for line in around(bracket) if line.group == "tube clamp"]


def test_slip_couple_against_a_sum_over_the_tube() -> None:
    """Friction summed round the tube for an even pressure, and at two lines: Coulomb, statics."""
    low, high = CLAMP.slip_nm or (0.0, 0.0)
    assert low == pytest.approx(2 * 0.1 * 16_000 * 0.025)
    # An even pressure p draws the halves with p D for each mm of width; its friction acts at the radius.
    pressure = 24_000 / (50 * 30)
    strips = 720
    area = math.pi * 50 * 30 / strips
    assert high == pytest.approx(sum(0.2 * pressure * area * 0.025 for _ in range(strips)))
    (told, met, crash) = lines(with_clamp())
    assert "it slips between 80 and 377 N.m, pressing with up to 16 MPa" in told.words
    assert (told.standing, met.standing, crash.standing) == ("told", "met", "open")


def test_what_is_blank_is_named() -> None:
    told = lines(with_clamp(CLAMP.but(bolts=None, preload_n=None)))[0]
    assert told.standing == "open"
    assert "number of bolts and preload blank" in told.words


def test_a_clamp_of_no_width_is_told_without_a_pressure() -> None:
    """When it slips does not hang on its width (Coulomb), only how hard it presses does."""
    told = lines(with_clamp(CLAMP.but(stations_mm=(-180, -180))))[0]
    assert "it slips between 80 and 377 N.m" in told.words
    assert "MPa" not in told.words


def test_a_clamp_alone_fails_and_the_same_bracket_without_it_has_no_verdict() -> None:
    alone = with_clamp().but(bolts=(), plates=(), dash_bar=None)
    results = analyse(alone)
    assert results.verdict == "fail"
    assert any("a clamp round the column tube alone is not enough" in reason for reason in results.reasons)
    assert analyse(alone.but(installation=Installation())).verdict == "no verdict"
    assert alone.input_hash() != alone.but(installation=Installation()).input_hash()


@pytest.mark.parametrize(
    ("stations", "standing", "said"),
    [
        ((-180.0, -150.0), "met", "no part that slides"),
        ((180.0, 200.0), "fails", "grips part tube, which slides"),
        ((80.0, 100.0), "fails", "meets it after 50 mm; 80 mm"),
    ],
)
def test_where_it_sits_in_a_crash(stations: tuple[float, float], standing: str, said: str) -> None:
    collapse = Collapse(
        parts=(ShaftPart(name="tube", stations_mm=(150, 400), moves="slides", held_by_bracket="no"),),
        donor_travel_mm=80,
    )
    line = lines(with_clamp(CLAMP.but(stations_mm=stations), collapse))[2]
    assert line.standing == standing
    assert said in line.words


@pytest.mark.parametrize("last", [False, True])
def test_a_part_that_slides_is_not_hidden_by_one_that_is_blank(*, last: bool) -> None:
    blank = ShaftPart(name="jacket", stations_mm=(100, 150))
    slides = ShaftPart(name="tube", stations_mm=(150, 400), moves="slides", held_by_bracket="no")
    parts = (blank, slides) if last else (slides, blank)
    line = lines(with_clamp(CLAMP.but(stations_mm=(130.0, 170.0)), Collapse(parts=parts)))[2]
    assert line.standing == "fails"
    assert "grips part tube" in line.words


@pytest.mark.parametrize(
    ("moves", "said"),
    [("slides", "slides toward it, and the donor's travel is blank"), (None, "whether that slides is blank")],
)
def test_whether_anything_meets_it_is_open_while_that_is_blank(moves: str | None, said: str) -> None:
    part = ShaftPart.model_validate({"name": "tube", "stations_mm": (150, 400), "moves": moves})
    line = lines(with_clamp(collapse=Collapse(parts=(part,))))[2]
    assert line.standing == "open"
    assert said in line.words


def test_it_is_typed_in_the_notes_around_and_taken_out_there() -> None:
    bracket, drafts = one_piece(), Drafts()
    for spoken, text in (("another clamp", "upper"), ("its stations", "150 to 180")):
        line = next(x for x in around_note_lines(bracket, drafts) if x.key == "another clamp")
        field = next(f for f in line.fields if spoken in f.spoken)
        made = settle(bracket, drafts, field, typed(field, text, bracket))
        bracket, drafts = made.bracket, made.drafts
    for spoken, text in (
        ("tube of", "50"),
        ("bolts of", "2"),
        ("preload of", "8 to 12 kN"),
        ("most friction", "0.2"),
    ):
        line = next(x for x in around_note_lines(bracket, drafts) if x.key == "clamp upper")
        field = next(f for f in line.fields if spoken in f.spoken)
        bracket = settle(bracket, drafts, field, typed(field, text, bracket)).bracket
    assert bracket.installation.clamps == (CLAMP.but(stations_mm=(150, 180)),)
    line = next(x for x in around_note_lines(bracket, drafts) if x.key == "clamp upper")
    assert settle(bracket, drafts, line.fields[0], None).bracket.installation.clamps == ()


def test_a_file_with_an_impossible_clamp_is_told() -> None:
    data = with_clamp().model_dump(mode="json")
    data["installation"]["clamps"][0]["preload_n"] = [9000, 5000]
    bracket, findings = validate(data)
    assert bracket is not None
    assert "9000 is above the high end 5000" in sentence(findings[0])
    assert findings[0].bars_verdict


def test_a_bracket_that_is_welded_to_what_holds_it_does_not_hang_on_a_clamp() -> None:
    welded = welded_strip().but(installation=Installation(clamps=(CLAMP,)))
    assert next(line for line in lines(welded) if "what else holds" in line.name).standing == "met"
    loose = next(line for line in lines(welded.but(welds=())) if "what else holds" in line.name)
    assert loose.standing == "fails"
