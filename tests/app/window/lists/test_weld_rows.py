"""Welds in parts list and notes: what stands there, and what a value typed there makes of the bracket."""

from __future__ import annotations

import pytest

from app.editing.refused import EditRefused
from app.window.lists.blank_places import blank_places, pick_of
from app.window.lists.field import Field, Line
from app.window.lists.finding_cells import cell_remarks
from app.window.lists.note_lines import NO_DRAFTS, note_lines
from app.window.lists.part_rows import part_rows
from app.window.lists.rows import Row
from app.window.lists.setting import settle
from app.window.lists.typed import shown
from app.window.selection import Pick
from geometry.bracket import Bracket
from geometry.findings import findings_of
from tests.app.window.lists.samples import sample


def _row(bracket: Bracket) -> Row:
    return next(row for row in part_rows(bracket) if row.pick.kind == "weld")


def _field(row: Row | Line, last: object) -> Field:
    return next(field for field in row.fields if last in field.path)


def test_a_weld_has_a_row_with_size_sides_and_length() -> None:
    row = _row(sample("sluice_welded"))
    assert (row.item, row.part) == ("J1", "weld to foot plate")
    assert "a 4 mm, both, 152 long" in row.spoken()
    assert row.rest is not None
    words = "".join(p if isinstance(p, str) else shown(p) for p in row.rest.pieces)
    assert words.startswith("weld top: name top; on the edge of casing plate from x ")
    assert "a throat short at each end" in words


@pytest.mark.parametrize(
    ("last", "value", "wanted"),
    [
        ("throat_mm", 3.0, 3.0),
        ("sides", "front", "front"),
        ("full_at_ends", "full up to its ends", True),
        ("full_at_ends", "a throat short at each end", False),
    ],
)
def test_what_is_typed_in_the_row_changes_the_weld(last: str, value: object, wanted: object) -> None:
    bracket = sample("sluice_welded")
    changed = settle(bracket, NO_DRAFTS, _field(_row(bracket), last), value).bracket
    assert getattr(changed.welds[0], last) == wanted


def test_an_end_is_typed_number_by_number() -> None:
    bracket = sample("sluice_welded")
    field = next(f for f in _row(bracket).fields if f.path == ("welds", "top", "from_mm", 0))
    assert settle(bracket, NO_DRAFTS, field, -40.0).bracket.welds[0].from_mm == (-40.0, 90.0)


def test_a_weld_is_renamed_but_not_to_a_name_that_is_taken() -> None:
    bracket = sample("sluice_welded")
    bracket = bracket.with_weld(bracket.welds[0].but(name="other", from_mm=(0, 90), to_mm=(76, 90)))
    name = _field(_row(bracket), "name")
    assert settle(bracket, NO_DRAFTS, name, "foot").bracket.welds[0].name == "foot"
    with pytest.raises(EditRefused, match="taken already"):
        settle(bracket, NO_DRAFTS, name, "other")


def test_a_leg_is_shown_where_the_leg_was_given() -> None:
    bracket = sample("sluice_welded")
    legged = bracket.with_weld(bracket.welds[0].but(throat_mm=None, leg_mm=5.0))
    assert "z 5 mm" in _row(legged).spoken()
    assert _field(_row(legged), "leg_mm").value == 5.0


def test_a_blank_size_is_led_to() -> None:
    bracket = sample("sluice_welded")
    blank = bracket.with_weld(bracket.welds[0].but(throat_mm=None))
    (place,) = blank_places(blank, findings_of(blank))
    assert place.path == ("welds", "top", "throat_mm")
    assert pick_of(place.path) == Pick("weld", "top")
    assert _field(_row(blank), "throat_mm").blank


def test_findings_stand_at_the_cell_they_are_about() -> None:
    neck = sample("sluice_welded_neck")
    assert "4.12" in cell_remarks(neck, findings_of(neck))["welds", "top", "sides"]


def test_the_note_names_who_answers_for_the_weld() -> None:
    bracket = sample("sluice_welded")
    line = next(line for line in note_lines(bracket) if line.key == "weld top")
    words = "".join(p if isinstance(p, str) else shown(p) for p in line.pieces)
    assert words.startswith(
        "Weld top, casing plate to foot plate: its metal bears no less than what it joins"
    )
    field = _field(line, "seen_by")
    assert settle(bracket, NO_DRAFTS, field, None).bracket.welds[0].seen_by is None
