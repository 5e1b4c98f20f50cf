"""The hash of all inputs: equal while nothing that counts has changed, also across new fields."""

from __future__ import annotations

from geometry.input_hash import hash_of
from tests.brackets import one_piece

LATER = (("cycles", None), ("plates.*.cut", "unknown"))


def test_title_and_note_enter_no_result() -> None:
    bracket = one_piece()
    assert bracket.but(title="another", note="said otherwise").input_hash() == bracket.input_hash()


def test_thickness_enters_the_result() -> None:
    bracket = one_piece()
    plate = bracket.plates[0]
    thicker = bracket.with_plate(plate.but(thickness_mm=plate.thickness_mm + 1.0))
    assert thicker.input_hash() != bracket.input_hash()


def test_later_field_untouched_keeps_the_hash() -> None:
    before = {"plates": [{"name": "a"}, {"name": "b"}]}
    after = {"cycles": None, "plates": [{"name": "a", "cut": "unknown"}, {"name": "b", "cut": "unknown"}]}
    assert hash_of(after, LATER) == hash_of(before, LATER)


def test_later_field_changed_changes_the_hash() -> None:
    untouched = {"cycles": None, "plates": [{"name": "a", "cut": "unknown"}]}
    cut = {"cycles": None, "plates": [{"name": "a", "cut": "sawn"}]}
    many = {"cycles": 10, "plates": [{"name": "a", "cut": "unknown"}]}
    assert len({hash_of(dict(one), LATER) for one in (untouched, cut, many)}) == 3
