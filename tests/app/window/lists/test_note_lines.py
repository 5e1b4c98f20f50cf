"""Notes as data: what stands in them, what is marked, and what a value typed there makes of the bracket."""

from __future__ import annotations

import pytest

from app.window.lists.field import Drafts, Field, Line, Path, put
from app.window.lists.note_lines import NO_DRAFTS, note_lines
from app.window.lists.setting import settle
from app.window.lists.typed import shown
from geometry.bracket import Bracket
from geometry.casing import Bearing, Column, Wheel
from geometry.fixing import BarEnd, BarStay
from geometry.loads import Claim, LoadCell, StatedCouple
from tests.app.window.lists.samples import one_piece, sample


def _line(bracket: Bracket, key: str, drafts: Drafts = NO_DRAFTS) -> Line:
    return next(line for line in note_lines(bracket, drafts) if line.key == key)


def _field(bracket: Bracket, path: Path, drafts: Drafts = NO_DRAFTS) -> Field:
    return next(f for line in note_lines(bracket, drafts) for f in line.fields if path in f.paths)


def _words(line: Line) -> str:
    return "".join(piece if isinstance(piece, str) else shown(piece) for piece in line.pieces)


def test_notes_are_numbered_and_read_as_sentences() -> None:
    lines = note_lines(one_piece())
    assert [line.number for line in lines] == list(range(1, len(lines) + 1))
    assert _words(lines[0]) == "Couple 30 N.m, stated by the builder; factor 2; it may be 25 % larger."
    assert "lower at z -220 mm, 8 to 25 kN/mm" in _words(lines[1])
    assert all(_words(line).count("[") == 0 for line in lines)


def test_what_meters_leave_open_is_told_to_a_tenth_and_what_is_typed_as_it_is() -> None:
    tray = sample("gauge_tray")
    assert _words(_line(tray, "couple")).endswith("factor 1.5; it may be 5.7 % larger.")
    typed = tray.but(loads=tray.loads.but(couple_uncertainty=0.0525))
    assert _words(_line(typed, "couple")).endswith("it may be 5.25 % larger.")


USUAL_UNTIL_TYPED = ("source", "factor", "couple_uncertainty", "thickness_tolerance_mm")
"""What stands in these is worked out until somebody types a figure."""


def test_every_field_stands_for_the_value_at_its_path() -> None:
    bracket = one_piece()
    for line in note_lines(bracket):
        for field in line.fields:
            if "+" in field.path or field.value is None or field.path[-1] in USUAL_UNTIL_TYPED:
                continue
            again = settle(bracket, NO_DRAFTS, field, field.value).bracket
            assert again == bracket, field.path


def test_what_holds_the_column_is_an_open_blank_until_it_is_said() -> None:
    bracket = sample("hedgerow_blank")
    field = _field(bracket, ("column", "held_by"))
    assert field.blank
    assert shown(field) == "____"
    said = settle(bracket, NO_DRAFTS, field, "nothing").bracket
    assert said.column.held_by == "nothing"
    assert not _field(said, ("column", "held_by")).blank


def test_a_bearing_comes_into_being_with_its_last_number() -> None:
    bracket = one_piece().but(column=Column(held_by="bearings"))
    path: Path = ("column", "bearings", "+", "station_mm")
    first = settle(bracket, NO_DRAFTS, _field(bracket, path), -220.0)
    assert first.bracket == bracket
    assert "-220 mm" in _words(_line(bracket, "column", first.drafts))
    stiffness = _field(bracket, ("column", "bearings", "+", "stiffness_n_per_mm"), first.drafts)
    second = settle(bracket, first.drafts, stiffness, (8000.0, 25000.0))
    assert second.bracket.column.bearings == (
        Bearing(name="lower", station_mm=-220, stiffness_n_per_mm=(8000, 25000)),
    )
    assert second.drafts == Drafts()


def test_a_bearing_is_taken_out_by_emptying_its_station() -> None:
    bracket = one_piece()
    field = _field(bracket, ("column", "bearings", "lower", "station_mm"))
    left = settle(bracket, NO_DRAFTS, field, None).bracket.column.bearings
    assert [bearing.name for bearing in left] == ["upper"]


def test_a_missing_wheel_is_two_blanks_that_make_one() -> None:
    bracket = one_piece().but(wheel=None)
    drafts = NO_DRAFTS
    for name, value in (("diameter_mm", 360.0), ("station_mm", 410.0)):
        field = _field(bracket, ("wheel", "+", name), drafts)
        assert field.blank
        done = settle(bracket, drafts, field, value)
        bracket, drafts = done.bracket, done.drafts
    assert bracket.wheel == Wheel(diameter_mm=360, station_mm=410)


def test_another_source_of_the_couple_asks_for_its_own_readings() -> None:
    bracket = one_piece()
    measured = settle(bracket, NO_DRAFTS, _field(bracket, ("loads", "couple", "source")), "load cell").bracket
    assert measured.loads.couple == LoadCell()
    assert [f.blank for f in _line(measured, "couple").fields if f.path[-1] in ("force_n", "arm_mm")] == [
        True,
        True,
    ]
    assert measured.loads.couple_factor == 1.5
    read = measured.but(loads=measured.loads.but(couple=LoadCell(force_n=600, arm_mm=50)))
    assert "Couple 30 N.m by load cell: 600 N at an arm of 50 mm" in _words(_line(read, "couple"))
    back = settle(read, NO_DRAFTS, _field(read, ("loads", "couple", "source")), "stated").bracket
    assert back.loads.couple == StatedCouple(couple_nm=30.0, by="")


@pytest.mark.parametrize(
    ("path", "value", "looser"),
    [
        (("loads", "pull_n"), 200.0, True),
        (("loads", "pull_n"), 400.0, False),
        (("loads", "weight_g"), 2.0, True),
        (("loads", "factor"), 1.5, True),
        (("limits", "turn_deg"), 0.2, True),
        (("limits", "turn_deg"), 0.05, False),
        (("limits", "yield_factor"), 1.2, True),
        (("limits", "marginal_used"), 0.9, True),
        (("bolts", "1", "scatter"), 0.1, True),
        (("bolts", "1", "face_friction"), 0.3, True),
    ],
)
def test_a_value_off_the_default_is_marked_and_a_looser_one_says_so(
    path: Path, value: float, looser: bool
) -> None:
    bracket = one_piece()
    if path[0] == "bolts":
        for bolt in bracket.bolts:
            bracket = put(bracket, ("bolts", bolt.name, path[2]), value)
    else:
        bracket = put(bracket, path, value)
    field = _field(bracket, path)
    assert field.usual
    assert field.looser is looser


def test_nothing_is_marked_at_the_defaults() -> None:
    assert [f.path for line in note_lines(one_piece()) for f in line.fields if f.usual or f.looser] == []


def test_a_bar_end_of_unknown_stiffness_is_blank() -> None:
    bracket = one_piece()
    bar = bracket.dash_bar
    assert bar is not None
    bracket = bracket.but(dash_bar=bar.but(ends=(BarEnd(kind="stiffness"), bar.ends[1])))
    field = _field(bracket, ("dash_bar", "ends", 0, "bending_nm_per_deg"))
    assert field.blank
    done = settle(bracket, NO_DRAFTS, field, (100.0, 200.0)).bracket
    assert done.dash_bar is not None
    assert done.dash_bar.ends[0].bending_nm_per_deg == (100.0, 200.0)
    assert "nobody named" in _words(_line(bracket, "bar"))


def test_a_claim_of_other_inputs_is_told_as_stale() -> None:
    claim = Claim(hash="0", verdict="pass", holds_to_nm=71, version="0.1.0", date="2026-01-01")
    assert "stale" in _words(_line(one_piece().but(claim=claim), "claim"))
    fresh = claim.but(hash=one_piece().input_hash())
    assert "a claim, not the verdict" in _words(_line(one_piece().but(claim=fresh), "claim"))


def test_a_stay_comes_with_its_last_number_and_goes_with_its_station() -> None:
    bracket = one_piece()
    assert _words(_line(bracket, "bar")).endswith("; stayed between them at no place.")
    first = settle(bracket, NO_DRAFTS, _field(bracket, ("dash_bar", "stays", "+", "station_mm")), 400.0)
    assert first.bracket == bracket
    stiffness = _field(bracket, ("dash_bar", "stays", "+", "stiffness_n_per_mm"), first.drafts)
    there = settle(bracket, first.drafts, stiffness, (2000.0, 5000.0)).bracket
    assert there.dash_bar is not None
    stay = BarStay(station_mm=400, direction=(0, -1, 0), stiffness_n_per_mm=(2000, 5000))
    assert there.dash_bar.stays == (stay,)
    assert _field(there, ("dash_bar", "stays", 0, "seen_by")).blank
    words = _words(_line(there, "bar"))
    assert "stayed at 400 mm along x 0 y -1 z 0 with 2 to 5 kN/mm, seen by ____" in words
    gone = settle(there, NO_DRAFTS, _field(there, ("dash_bar", "stays", 0, "station_mm")), None).bracket
    assert gone == bracket
