"""The cheapest samples still say what the kept table says; `python3 tests golden` asks all of them.

The table is no source: a difference tells that an answer changed, and the failure where. If the change is
wanted, `python3 tests golden --take` writes the table anew.
"""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from tests.golden import answers, command
from tests.golden.answers import made_with, names, rows_of
from tests.golden.command import BAD_USAGE, DIFFERENT, SAME, main
from tests.golden.difference import AGREES, difference
from tests.golden.rows import DIGITS, TABLE, Row, Table, table_of, text_of
from tests.golden.telling import told

CHEAPEST = ("marlpit_two_straps", "marlpit_installed")
ELSEWHERE = 1e-6
"""Relative. Another processor has other kernels for sums and products, whose last digits differ, and the
solution takes some of them along. A change of the program that matters to anybody is far larger."""


@pytest.fixture(scope="module")
def kept() -> Table:
    return table_of(TABLE.read_text(encoding="utf-8"))


@pytest.mark.parametrize("name", CHEAPEST)
def test_the_cheapest_samples_say_what_they_said(name: str, kept: Table) -> None:
    if kept.made_with != made_with():
        # A mesher of another version may mesh otherwise, which is no fault of the program's.
        pytest.skip(
            f"the table is of {kept.made_with}; here are {made_with()}: look at `python3 tests golden`"
        )
    found = difference(name, kept.of(name), rows_of(name), ELSEWHERE)
    assert found is None, "\n".join(told(found))


def test_every_sample_is_in_the_table_with_every_stage(kept: Table) -> None:
    assert kept.samples() == names()
    for name in names():
        rows = kept.of(name)
        assert len(rows) > 100
        assert len({row.stage for row in rows}) == 9, name
        assert len({row.key for row in rows}) == len(rows), name
        checks = {row.thing for row in rows if row.thing.startswith("check ")}
        for stage in ("7 refined solve", "8 bands", "9 verdict"):
            assert {row.thing for row in rows if row.stage == stage} >= checks - {"check buckling"}, stage


def test_the_table_has_the_digits_its_tolerance_needs(kept: Table) -> None:
    assert AGREES >= 10.0 ** (2 - DIGITS)
    assert text_of(kept) == TABLE.read_text(encoding="utf-8")
    demands = re.findall(r"check stress, .*?demand=([\d.]+)", TABLE.read_text(encoding="utf-8"))
    assert len(demands) > 30
    assert sum(len(demand) > DIGITS - 2 for demand in demands) > 0.9 * len(demands)


@pytest.fixture
def played(monkeypatch: pytest.MonkeyPatch) -> dict[str, float]:
    """Stand in for the analysis: each sample has one row; change its demand here."""
    demands = {"arm": 1.0, "tray": 2.0}

    def rows(name: str, _kept: object = None) -> list[Row]:
        return [Row(name, "7 refined solve", "check slip", {"demand": demands[name], "unit": "N"})]

    monkeypatch.setattr(command, "names", lambda: sorted(demands))
    monkeypatch.setattr(command, "rows_of", rows)
    return demands


def test_taken_then_compared_then_changed(
    played: dict[str, float], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "answers.txt"
    assert main([], path) == BAD_USAGE
    assert "make one with `python3 tests golden --take`" in capsys.readouterr().err
    assert main(["--take"], path) == SAME
    assert main([], path) == SAME
    assert capsys.readouterr().out.endswith("2 the same, 0 different.\n")
    played["tray"] = 2.02
    assert main([], path) == DIFFERENT
    said = capsys.readouterr().out
    assert "arm: the same, 1 rows\n" in said
    assert "  check slip: demand 2 -> 2.02 (+1 %) N\n" in said
    assert main(["--only", "arm"], path) == SAME
    assert main(["--tolerance", "0.02"], path) == SAME
    played["arm"] = 1.5
    assert main(["--take", "--only", "tray"], path) == SAME
    assert {row.sample: row.figures["demand"] for row in table_of(path.read_text()).rows} == {
        "arm": 1.0,
        "tray": 2.02,
    }


def test_samples_that_came_or_went_are_different(
    played: dict[str, float], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "answers.txt"
    main(["--take"], path)
    played["yoke"] = 3.0
    del played["arm"]
    assert main([], path) == DIFFERENT
    said = capsys.readouterr().out
    assert "yoke: not in the kept table\n" in said
    assert "arm: in the kept table, and no sample any more\n" in said
    assert main(["--only", "none"], path) == BAD_USAGE
    assert capsys.readouterr().err == "There is no sample none; there are: tray, yoke.\n"


def test_other_libraries_are_told(
    played: dict[str, float],
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    path = tmp_path / "answers.txt"
    main(["--take"], path)
    monkeypatch.setattr(command, "made_with", lambda: "gmsh 1")
    assert main([], path) == SAME
    assert "Other libraries than the table's." in capsys.readouterr().out


def test_a_field_that_came_later_and_says_nothing_is_no_other_input() -> None:
    """The parts' digests leave out what the hash leaves out."""
    (hashed, *parts) = [row for row in rows_said_of_blank() if row.stage == "1 inputs"]
    assert hashed.thing == "hash"
    assert "part plates" in {row.thing for row in parts}
    assert not {"part fit_up", "part installation", "part welds"} & {row.thing for row in parts}


def rows_said_of_blank() -> list[Row]:
    """Return the rows of a bracket that cannot be solved: no mesh, a verdict all the same."""
    from geometry.bracket import Bracket
    from solver.analyse import analyse_in_turn

    bracket = Bracket()
    return answers.rows_said("blank", bracket, list(analyse_in_turn(bracket)))


def test_what_cannot_be_solved_has_rows_too() -> None:
    rows = rows_said_of_blank()
    assert {row.stage for row in rows} == {"1 inputs", "2 findings", "9 verdict"}
    (word,) = [row for row in rows if row.thing == "verdict"]
    assert json.dumps(word.figures) == '{"word": "no verdict"}'
