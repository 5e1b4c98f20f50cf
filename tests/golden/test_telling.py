"""A change is found, is put where it began, and is told in words."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import pytest

from tests.golden.difference import difference, same
from tests.golden.rows import Figure, Row, Table, numbered, table_of, text_of
from tests.golden.telling import MOST_OTHERS, told

ROWS = (
    Row("tray", "1 inputs", "hash", {"sha256": "aa"}),
    Row("tray", "2 findings", "hole-large, bolt 3", {"severity": "note", "value mm": 11.0}),
    Row("tray", "3 bolt placing", "bolt 3, head", {"at_x_mm": 12.5}),
    Row("tray", "4 first mesh", "plate foot", {"elements": 1704.0, "joined": "ecc2", "spread_mm": 29.6}),
    Row("tray", "5 first solve", "check slip", {"demand": 880.0, "unit": "N"}),
    Row("tray", "6 refined mesh", "plate foot", {"elements": 2841.0, "joined": "fab0", "spread_mm": 27.6}),
    Row("tray", "6 refined mesh", "whole", {"meshes": 2.0, "unknowns_1": 11079.0, "unknowns_2": 18090.0}),
    Row("tray", "7 refined solve", "check slip", {"demand": 882.0, "allowable": 1949.0, "unit": "N"}),
    Row("tray", "7 refined solve", "bolt 3", {"shear_n": 572.0}),
    Row("tray", "8 bands", "check slip", {"band": 0.28, "footprints": 0.25}),
    Row("tray", "9 verdict", "check slip", {"upper_end": 0.58}),
    Row("tray", "9 verdict", "reason 1", {"words": "every check is within 80%"}),
    Row("tray", "9 verdict", "verdict", {"word": "pass"}),
)


def _with(rows: Sequence[Row], stage: str, thing: str, figures: Mapping[str, Figure]) -> list[Row]:
    assert any((row.stage, row.thing) == (stage, thing) for row in rows)
    return [
        Row(row.sample, stage, thing, {**row.figures, **figures})
        if (row.stage, row.thing) == (stage, thing)
        else row
        for row in rows
    ]


def _lines(now: Sequence[Row], before: Sequence[Row] = ROWS, tolerance: float = 1e-9) -> list[str]:
    found = difference("tray", before, now, tolerance)
    return told(found) if found is not None else []


def test_the_file_gives_back_what_was_put_in() -> None:
    rows = (
        *ROWS,
        Row("arm", "9 verdict", "odd | words", {"words": 'a | b = "c"', "far": math.inf, "n": -0.0}),
    )
    text = text_of(Table(rows, "gmsh 4.15"))
    again = table_of(text)
    assert again.made_with == "gmsh 4.15"
    assert again.samples() == ["arm", "tray"]
    assert again.of("tray") == sorted(ROWS, key=Row.line)
    assert [line for line in text.splitlines() if not line.startswith("#")] == sorted(
        line for line in text.splitlines() if not line.startswith("#")
    )
    (odd,) = again.of("arm")
    assert odd.thing == "odd / words"
    assert odd.figures == {"words": 'a / b = "c"', "far": math.inf, "n": 0.0}
    assert text_of(again) == text


def test_a_line_that_is_none_is_named() -> None:
    with pytest.raises(ValueError, match=r"^line 2 of the kept table cannot be read: tray \| 1 inputs"):
        table_of("# head\ntray | 1 inputs | hash | sha256=aa\n")


def test_two_of_a_kind_are_told_apart() -> None:
    row = Row("tray", "2 findings", "hole-large, bolt 3", {})
    assert [one.thing for one in numbered([row, row, row])] == [
        row.thing,
        f"{row.thing} #2",
        f"{row.thing} #3",
    ]


@pytest.mark.parametrize(
    ("before", "now", "agree"),
    [
        (882.0, 882.0 * (1 + 2e-9), False),
        (882.0, 882.0 * (1 + 5e-10), True),
        (1e-7, 1.0000005e-7, True),  # rounding of what should be nought
        (1e-7, 2e-7, False),
        (math.inf, math.inf, True),
        (math.nan, math.nan, True),
        (882.0, math.inf, False),
        (math.inf, -math.inf, False),
        ("bolt 3", "bolt 3", True),
        ("bolt 3", "bolt 4", False),
        (None, 0.0, False),
    ],
)
def test_a_change_of_two_in_a_thousand_million_is_seen(
    before: Figure | None, now: Figure | None, agree: bool
) -> None:
    assert same(before, now, 1e-9) is agree


def test_the_same_is_nothing() -> None:
    assert _lines(ROWS) == []
    kept_and_read = table_of(text_of(Table(ROWS))).of("tray")
    assert _lines(ROWS, kept_and_read) == []


def test_only_the_solution_changed() -> None:
    now = _with(ROWS, "7 refined solve", "check slip", {"demand": 890.82, "used": 0.46})
    lines = _lines(_with(now, "8 bands", "check slip", {"band": 0.27}))
    assert lines == [
        "tray: first differs at 7 refined solve; the same: inputs, findings, bolt placing, first mesh, first "
        "solve, refined mesh",
        "  verdict pass, the same; reasons the same",
        "  inputs' hash the same; meshes the same: only the solution changed",
        "  check slip: demand 882 -> 890.82 (+1 %) N, band 0.28 -> 0.27 (-3.57 %)",
    ]


def test_a_verdict_that_turned_comes_first() -> None:
    now = _with(ROWS, "9 verdict", "verdict", {"word": "fail"})
    now = _with(now, "9 verdict", "reason 1", {"words": "slip uses 101%"})
    _, verdict, cause = _lines(now)
    assert verdict == (
        '  VERDICT CHANGED: pass -> fail; reason 1: "every check is within 80%" -> "slip uses 101%"'
    )
    assert cause.endswith("meshes and solution the same: only what is made of it changed")


def test_another_mesh_is_told_by_its_counts() -> None:
    now = _with(ROWS, "6 refined mesh", "plate foot", {"elements": 2900.0, "joined": "0b76"})
    now = _with(now, "6 refined mesh", "whole", {"unknowns_2": 18500.0})
    lines = _lines(now)
    assert lines[0].startswith("tray: first differs at 6 refined mesh; the same: inputs")
    assert lines[2] == "  inputs' hash the same; the refined mesh changed"
    assert "  refined mesh, plate foot: elements 2841 -> 2900 (+2.08 %)" in lines
    now = _with(now, "5 first solve", "check slip", {"demand": 881.0})
    assert _lines(now)[2].endswith("the refined mesh changed, as it is refined where the first solution says")
    assert "  refined mesh, whole: unknowns_2 18090 -> 18500 (+2.27 %)" in lines


def test_a_mesh_joined_otherwise_or_moved_is_told_apart() -> None:
    joined = _with(ROWS, "4 first mesh", "plate foot", {"joined": "0b76"})
    assert "  first mesh, plate foot: as many elements, joined otherwise" in _lines(joined)
    moved = _with(ROWS, "4 first mesh", "plate foot", {"spread_mm": 29.9})
    assert any("joined alike, nodes moved; most spread_mm 29.6 -> 29.9" in line for line in _lines(moved))


def test_other_inputs_findings_and_places_are_named() -> None:
    lines = _lines(_with(ROWS, "1 inputs", "hash", {"sha256": "bb"}))
    assert lines[0] == "tray: first differs at 1 inputs"
    assert lines[2] == "  the inputs' hash changed: another bracket, or a field that counts now"
    lines = _lines(_with(ROWS, "2 findings", "hole-large, bolt 3", {"severity": "doubt"}))
    assert '  findings, hole-large, bolt 3: severity "note" -> "doubt"' in lines
    assert lines[2] == "  inputs' hash the same; meshes the same"
    lines = _lines([row for row in ROWS if row.stage != "2 findings"])
    assert "  findings, hole-large, bolt 3: value mm 11 -> nothing" in lines
    lines = _lines(_with(ROWS, "3 bolt placing", "bolt 3, head", {"at_x_mm": 12.6}))
    assert lines[0] == "tray: first differs at 3 bolt placing; the same: inputs, findings"


def test_pencil_alone_and_what_is_no_check() -> None:
    now = _with(ROWS, "5 first solve", "check slip", {"demand": 881.0})
    now = _with(now, "7 refined solve", "bolt 3", {"shear_n": 577.72})
    lines = _lines(now)
    assert "  check slip: in pencil alone, demand 880 -> 881 (+0.114 %) N" in lines
    assert lines[-1] == "  refined solve, bolt 3: shear_n 572 -> 577.72 (+1 %)"


def test_faint_changes_are_counted() -> None:
    now = _with(ROWS, "7 refined solve", "check slip", {"demand": 882.0 * (1 + 3e-8)})
    assert _lines(now)[3:] == ["  1 check by less than 1e-06 of itself, slip most: 3.0e-08"]
    now = _with(now, "9 verdict", "check slip", {"upper_end": 0.58 * (1 + 3e-8)})
    now = _with(now, "7 refined solve", "check slip", {"case": "couple -"})
    assert any(line.startswith("  check slip: demand 882 -> 882.000026") for line in _lines(now))


def test_many_other_figures_are_counted() -> None:
    bolts = [Row("tray", "7 refined solve", f"bolt {i}", {"shear_n": 100.0}) for i in range(20)]
    now = [Row("tray", "7 refined solve", f"bolt {i}", {"shear_n": 101.0 + i}) for i in range(20)]
    lines = _lines([*ROWS, *now], [*ROWS, *bolts])
    assert "  refined solve, bolt 19: shear_n 100 -> 120 (+20 %)" in lines
    assert lines[-1] == f"  and {20 - MOST_OTHERS} more figures, by +8 % at most"


def test_a_sample_on_one_side_alone() -> None:
    assert _lines(ROWS, []) == ["tray: not in the kept table"]
    assert _lines([], ROWS) == ["tray: in the kept table, and no sample any more"]
