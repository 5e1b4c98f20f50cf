"""The notes of loads beside the couple: typed in place, and led to where one is half given."""

from __future__ import annotations

import pytest

from app.editing.refused import EditRefused
from app.window.lists.blank_places import blank_places
from app.window.lists.field import Drafts, Field, Line
from app.window.lists.note_lines import note_lines
from app.window.lists.setting import settle
from app.window.lists.typed import typed
from geometry.bracket import Bracket
from geometry.findings import findings_of
from tests.brackets import one_piece


def line(bracket: Bracket, key: str) -> Line:
    return next(line for line in note_lines(bracket) if line.key == key)


def put(bracket: Bracket, key: str, spoken: str, text: str) -> Bracket:
    field: Field = next(f for f in line(bracket, key).fields if spoken in f.spoken)
    return settle(bracket, Drafts(), field, typed(field, text, bracket)).bracket


def test_each_is_typed_in_its_note_and_emptied_there() -> None:
    bracket = put(one_piece(), "lock", "torque", "147.5 lbf.ft")
    assert bracket.loads.other.lock.torque_nm == pytest.approx(200.0, rel=1e-3)
    bracket = put(bracket, "lock", "tube", "column")
    assert bracket.loads.other.lock.borne_by == "column"
    assert put(bracket, "lock", "torque", "").loads.other.lock.torque_nm is None
    bracket = put(put(bracket, "unit fault", "most torque", "2.5"), "unit fault", "ratio", "18")
    assert bracket.loads.other.unit.value_nm == 45.0
    with pytest.raises(EditRefused, match="torque of the steering lock"):
        put(bracket, "lock", "torque", "strong")


def test_a_kerb_strike_that_is_half_given_leads_to_its_first_blank() -> None:
    bracket = put(one_piece(), "kerb", "ratio", "18")
    places = blank_places(bracket, findings_of(bracket))
    assert [place.path for place in places] == [("loads", "other", "kerb", "rotor_kgcm2")]
    stated = put(bracket, "kerb", "peak", "80")
    assert not blank_places(stated, findings_of(stated))
    assert len(line(stated, "kerb").fields) == 1
