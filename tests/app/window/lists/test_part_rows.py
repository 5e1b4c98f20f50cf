"""Rows of the parts list as data: what shares a row, what stands in it, what is blank."""

from __future__ import annotations

import re

import pytest

from app.window.lists.field import put, put_all
from app.window.lists.part_rows import part_rows
from app.window.lists.rows import Row, item_numbers
from app.window.lists.typed import shown
from app.window.selection import Pick
from app.wording.figures import figure
from geometry.bracket import Bracket
from geometry.placing import place_bolts
from solver.clamped_bolt import clamped_bolts
from solver.results import BoltResult
from tests.app.window.lists.samples import one_piece, sample


def _row(bracket: Bracket, key: str, **given: object) -> Row:
    return next(row for row in part_rows(bracket, **given) if row.key == key)  # type: ignore[arg-type]


def test_item_numbers_run_as_on_a_drawing() -> None:
    assert item_numbers(["1", "2", "3"]) == "1-3"
    assert item_numbers(["5", "1", "2"]) == "1-2, 5"
    assert item_numbers(["left", "right"]) == "left, right"


def test_alike_bolts_share_a_row_and_an_opened_row_shows_each() -> None:
    keys = [row.key for row in part_rows(one_piece())]
    assert keys[:3] == ["bolts 1", "bolts 4", "plate plate"]
    opened = part_rows(one_piece(), opened={"bolts 1"})
    assert [row.key for row in opened[:5]] == ["bolts 1", "bolt 1", "bolt 2", "bolt 3", "bolts 4"]
    assert [row.item for row in opened[:4]] == ["1-3", "1", "2", "3"]
    assert opened[1].part == "bolt to boss top"


def test_a_bolt_that_differs_leaves_the_shared_row() -> None:
    bracket = put(one_piece(), ("bolts", "2", "grade"), "10.9")
    rows = part_rows(bracket)
    assert [(row.item, row.off) for row in rows[:3]] == [("1, 3", 2), ("2", 1), ("4-7", 4)]


def test_one_field_changes_every_bolt_of_its_row() -> None:
    field = next(f for f in _row(one_piece(), "bolts 4").fields if f.path[-1] == "tightening_nm")
    changed = put_all(one_piece(), field.paths, 30.0)
    assert [bolt.tightening_nm for bolt in changed.bolts] == [38, 38, 38, 30, 30, 30, 30]


def test_a_row_tells_everything_when_it_is_spoken() -> None:
    spoken = _row(one_piece(), "bolts 1").spoken()
    assert spoken == "item 1-3, 3 off, bolt to casing, M10, 8.8, 38 N.m"
    blank = put(one_piece(), ("bolts", "1", "grade"), None)
    assert "blank" in _row(blank, "bolt 1").spoken()


def test_what_bars_a_verdict_is_an_open_box() -> None:
    bracket = one_piece()
    for path in (("bolts", "1", "grade"), ("bolts", "1", "tightening_nm"), ("plates", "plate", "material")):
        without = put(bracket, path, None)
        field = next(f for row in part_rows(without) for f in row.fields if f.paths == (path,))
        assert field.blank
        assert shown(field) == "____"


def test_states_come_from_the_analysis_and_a_shared_row_counts_them() -> None:
    states = [BoltResult(name, "stuck", 0, 0, 0, 0, 0.1, "") for name in "123"]
    assert "stuck" in _row(one_piece(), "bolts 1", states=states).spoken()
    states[1] = BoltResult("2", "slipped", 0, 0, 0, 0, 1.1, "")
    assert "1 slipped, 2 stuck" in _row(one_piece(), "bolts 1", states=states).spoken()


def test_plates_weigh_what_their_area_does() -> None:
    row = _row(sample("hedgerow_blank"), "plate plate")
    area_mm2 = 180 * 190 - (4 - 3.141593) / 2 * (18**2 + 8**2)
    area_mm2 -= 3.141593 / 4 * (4 * 11**2 + 50**2 + 4 * 13.5**2)
    assert row.cells[3] == (f"{area_mm2 * 10 * 7.85e-6:.3g} kg",)


def test_every_field_of_every_row_stands_for_the_value_at_its_path() -> None:
    for name in ("marlpit_one_piece", "marlpit_two_straps", "imperial_flat", "gauge_tray"):
        bracket = sample(name)
        for row in part_rows(bracket):
            for field in row.fields:
                assert put_all(bracket, field.paths, field.value) == bracket or field.varies, field.paths


def test_a_shared_row_is_the_row_of_each_of_its_bolts() -> None:
    row = _row(one_piece(), "bolts 1")
    assert row.is_of(Pick("bolt", "2"))
    assert not row.is_of(Pick("bolt", "4"))
    assert not row.is_of(None)


def test_a_plate_named_one_is_not_called_so_twice() -> None:
    told = [str(part) for r in part_rows(sample("two_piece_bolted")) for part in (r.part, r.cells)]
    assert any(part == "casing plate" for part in told)
    assert any("bolt to casing plate" in part for part in told)
    assert not any("plate casing plate" in part or "plate bar plate" in part for part in told)


def test_words_about_a_bolt_have_inches_for_an_inch_reader() -> None:
    """25.4 mm to the inch: what it clamps is a length like any other."""
    row = next(row for row in part_rows(sample("marlpit_one_piece"), inch=True) if row.key.startswith("bolt"))
    assert row.rest is not None
    told = "".join(piece for piece in row.rest.pieces if isinstance(piece, str))
    clamps = re.search(r"clamps ([\d.]+) mm = ([\d.]+) in, ", told)
    assert clamps is not None, told
    assert "(20 x 10.5 x 2 mm = 0.787 x 0.413 x 0.0787 in)" in told
    assert float(clamps[2]) == pytest.approx(float(clamps[1]) / 25.4, rel=5e-3)


def _preload_words(bracket: Bracket, key: str) -> str:
    rest = _row(bracket, key).rest
    assert rest is not None
    words = "".join(piece for piece in rest.pieces if isinstance(piece, str))
    return re.search(r"\d[\d.]* to \d[\d.]* kN before settling", words)[0]  # type: ignore[index]


def test_the_preload_told_is_of_the_hole_as_drawn_and_that_the_analysis_takes() -> None:
    """A head over a wider hole rubs further out, so that the same torque clamps less."""
    told = {}
    for hole_mm in (10.5, 12.0, 14.0):
        bracket = one_piece()
        for name in ("1", "2", "3"):
            hole = bracket.bolt(name).hole
            bracket = put(bracket, ("plates", "plate", "openings", hole, "diameter_mm"), hole_mm)
        told[hole_mm] = _preload_words(bracket, "bolts 1")
        taken = clamped_bolts(bracket, place_bolts(bracket))["1"].preload_high_n
        assert taken is not None
        assert told[hole_mm].split(" to ")[1] == f"{figure(taken / 1000.0)} kN before settling"
    assert len(set(told.values())) == 3
    mixed = put(one_piece(), ("plates", "plate", "openings", one_piece().bolt("2").hole, "diameter_mm"), 14.0)
    low, high = _preload_words(mixed, "bolts 1").split(" to ")
    assert low == told[14.0].split(" to ")[0]
    assert high == _preload_words(one_piece(), "bolts 1").split(" to ")[1]
