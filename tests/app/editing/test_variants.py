"""Layouts kept in one file: swapped without loss, read with bounds, outside what is judged."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from app.compare.layout import variant_layouts
from app.editing.refused import EditRefused
from app.editing.saw import saw
from app.editing.variants import as_variant, variants_of, with_variant, without_variant
from geometry.bracket import Bracket
from geometry.bracket_file import bracket_of, read_bracket, save_bracket
from geometry.file_counts import MOST
from geometry.file_writing import bracket_text
from geometry.findings import findings_of
from geometry.variant import Variant
from tests.brackets import one_piece
from tests.geometry.example_bracket import example_data

WHOLE = one_piece()
SAWN = saw(WHOLE, "plate", (45, -80), (45, 200))


def test_both_are_kept_and_either_can_be_drawn() -> None:
    both = with_variant(SAWN, "one piece", WHOLE)
    assert variants_of(both) == ("one piece",)
    assert both.plates == SAWN.plates
    swapped = as_variant(both, "one piece")
    assert (swapped.plates, swapped.bolts) == (WHOLE.plates, WHOLE.bolts)
    assert swapped.layout == "one piece"
    assert variants_of(swapped) == ("first layout",)
    back = as_variant(swapped, "first layout")
    assert (back.plates, back.bolts, back.layout) == (SAWN.plates, SAWN.bolts, "first layout")
    assert as_variant(as_variant(back, "one piece"), "first layout") == back
    assert without_variant(both, "one piece") == SAWN


def test_a_variant_of_the_same_name_is_replaced() -> None:
    both = with_variant(with_variant(SAWN, "a", WHOLE), "a", SAWN)
    assert [v.plates for v in both.variants] == [SAWN.plates]


def test_what_makes_no_sense_is_refused() -> None:
    with pytest.raises(EditRefused, match="differs in casing, dash bar, which all variants of a file share"):
        with_variant(SAWN, "other", WHOLE.but(casing=None, dash_bar=None))
    with pytest.raises(EditRefused, match="needs a name"):
        with_variant(SAWN, "  ", WHOLE)
    with pytest.raises(EditRefused, match="is called x: give the variant another"):
        with_variant(SAWN.but(layout="x"), "x", WHOLE)
    for edit in (as_variant, without_variant):
        with pytest.raises(EditRefused, match="no variant nothing; there is: one piece"):
            edit(with_variant(SAWN, "one piece", WHOLE), "nothing")


def test_variants_are_not_what_is_judged() -> None:
    both = with_variant(SAWN, "one piece", WHOLE)
    assert both.input_hash() == SAWN.input_hash()
    assert as_variant(both, "one piece").input_hash() == WHOLE.input_hash()
    assert findings_of(both) == findings_of(SAWN)


def test_two_variants_of_one_name_are_noted() -> None:
    twice = WHOLE.but(variants=(Variant(name="a"), Variant(name="a")))
    doubled = [f for f in findings_of(twice) if f.code == "name-doubled"]
    assert [(f.where, f.severity) for f in doubled] == [("bracket, a", "note")]


def test_of_two_variants_of_one_name_none_is_shown_for_the_other() -> None:
    """Laid side by side the first one stood there twice, and the second was never judged."""
    twice = SAWN.but(variants=tuple(with_variant(SAWN, "a", one).variants[0] for one in (WHOLE, SAWN)))
    with pytest.raises(EditRefused, match="2 variants are called a: give each a name of its own"):
        as_variant(twice, "a")
    with pytest.raises(EditRefused, match="2 variants are called a"):
        variant_layouts(twice)
    assert as_variant(without_variant(twice, "a"), "a").plates == SAWN.plates


def test_they_are_saved_and_read(tmp_path: Path) -> None:
    both = with_variant(SAWN, "one piece", WHOLE)
    save_bracket(tmp_path / "both.bracket.json", both)
    reading = read_bracket(tmp_path / "both.bracket.json")
    assert reading.bracket == both
    assert reading.findings == ()


def test_a_file_without_variants_is_written_as_ever() -> None:
    assert "variants" not in bracket_text(WHOLE)
    assert "layout" not in bracket_text(WHOLE)


def _with_variant_data(variant: dict[str, Any]) -> bytes:
    return json.dumps({**example_data(), "variants": [variant]}).encode()


def test_findings_name_where_in_a_variant() -> None:
    plates, bolts = example_data()["plates"], example_data()["bolts"]
    plates[0]["thickness_mm"] = -1
    bolts[1]["grade"] = 8
    bolts[2]["colour"] = "red"
    reading = bracket_of(_with_variant_data({"name": "thin", "plates": plates, "bolts": bolts}))
    assert {(f.code, f.where) for f in reading.findings} >= {
        ("number-out-of-range", "variant thin, plate main, thickness_mm"),
        ("wrong-type", "variant thin, bolt 2, grade"),
        ("key-unknown", "variant thin, bolt 3"),
    }
    bracket = reading.bracket
    assert bracket is not None
    assert len(bracket.plates) == 1
    assert bracket.variants[0].plates == ()


def test_a_variant_cannot_hold_variants() -> None:
    reading = bracket_of(_with_variant_data({"name": "a", "variants": []}))
    assert [(f.code, f.where, f.values["key"]) for f in reading.findings] == [
        ("key-unknown", "variant a", "variants")
    ]


@pytest.mark.parametrize("what", ["plates", "bolts", "anchors"])
def test_the_bounds_count_what_is_in_variants(what: str) -> None:
    one: Any = {"plates": example_data()["plates"][0], "bolts": example_data()["bolts"][0]}.get(what) or {
        "name": "x",
        "word": "w",
    }
    half = [one] * (MOST[what] // 2 + 1)
    data = {**example_data(), what: half, "variants": [{"name": "a", what: half}]}
    reading = bracket_of(json.dumps(data).encode())
    assert ("too-many", what) in {(f.code, f.values.get("what")) for f in reading.findings}
    assert reading.bracket is None


def test_the_bounds_count_corners_in_variants() -> None:
    plate = example_data()["plates"][0]
    plate["outline"] = [{"at_mm": [k, k * k % 7]} for k in range(MOST["corners"] // 2 + 1)]
    data = {**example_data(), "plates": [plate], "variants": [{"name": "a", "plates": [plate]}]}
    assert [f.values["what"] for f in bracket_of(json.dumps(data).encode()).findings] == ["corners"]


def test_an_old_file_reads_unchanged() -> None:
    old = Path(__file__).parents[2] / "old_files" / "version_1.bracket.json"
    reading = read_bracket(old)
    assert reading.findings == ()
    assert isinstance(reading.bracket, Bracket)
    assert reading.bracket.variants == ()
    assert reading.bracket.layout == ""
