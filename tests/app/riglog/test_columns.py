from __future__ import annotations

import json
from pathlib import Path

import pytest

from app.riglog.channels import channels_of
from app.riglog.columns import Columns, asked, fingerprint, guessed, remember, remembered
from app.riglog.log_error import LogError
from app.riglog.opened import Said, kind_of, opened
from app.riglog.reading import Table, table_of


def table(head: str = "T1,T2,clock") -> Table:
    rows = "\n".join(f"{k},{2 * k},{k / 10}" for k in range(20))
    return table_of(f"{head}\n{rows}\n".encode())


def said(**columns: str) -> Said:
    return Said(columns, {}, {}, {})


def test_units_and_signs_are_applied() -> None:
    one = table()
    columns = asked(
        Columns(), one.dialect, {"output": "T2", "input": "t1", "time": "clock"},
        {"output": "lbf.ft", "input": "N.mm", "time": "ms"}, {"input": "-"},
    )  # fmt: skip
    log = channels_of(one, columns)
    assert log.of["output"][3] == pytest.approx(6 * 1.3558179, rel=1e-7)
    assert log.of["input"][3] == pytest.approx(-0.003)
    assert log.of["time"][10] == pytest.approx(1e-3)


def test_a_unit_nobody_said_is_asked_for() -> None:
    one = table()
    columns = asked(Columns(), one.dialect, {"output": "T2"}, {}, {})
    assert columns.questions() == ("In which unit is column 'T2' (output)? Say it once: --units output=N.m",)
    with pytest.raises(LogError, match="In which unit"):
        channels_of(one, columns)


def test_what_was_said_is_remembered_for_the_same_names_only(tmp_path: Path) -> None:
    one = table()
    first = Said({"output": "T2", "input": "T1"}, {"output": "N.m", "input": "N.m"}, {"input": "-"}, {})
    opened(one, first, tmp_path)
    again = opened(one, said(), tmp_path)
    assert again.columns.of["input"].sign == -1
    assert again.of["output"][3] == 6.0
    other = table("T1,T2,clocks")
    assert fingerprint(other.dialect) != fingerprint(one.dialect)
    with pytest.raises(LogError, match="What do the columns 'T1', 'T2', 'clocks' hold"):
        opened(other, said(), tmp_path)


def test_of_many_columns_the_first_are_named(tmp_path: Path) -> None:
    """Found with files of every kind: two hundred names made one sentence of three thousand signs."""
    rows = [[f"u{n}" for n in range(200)], *(["1"] * 200 for _ in range(6))]
    one = table_of("\n".join(",".join(row) for row in rows).encode())
    with pytest.raises(LogError, match="'u11' and 188 more hold") as told:
        opened(one, said(), tmp_path)
    assert "u12" not in str(told.value)


def test_a_spoilt_memory_is_no_memory(tmp_path: Path) -> None:
    one = table()
    remember(one.dialect, Columns(), tmp_path)
    assert remembered(one.dialect, tmp_path) is None
    (tmp_path / "rig_columns.json").write_text(json.dumps({fingerprint(one.dialect): {"of": {"output": 5}}}))
    assert remembered(one.dialect, tmp_path) is None
    (tmp_path / "rig_columns.json").write_text("no json")
    assert remembered(one.dialect, tmp_path) is None


@pytest.mark.parametrize(
    ("columns", "units", "words"),
    [
        ({"output": "T9"}, {}, "There is no column 'T9'.*there are: 'T1', 'T2', 'clock'"),
        ({"wheel": "T1"}, {}, "'wheel' is nothing a column can be"),
        ({"output": "T1"}, {"output": "mm"}, "a torque is wanted"),
        ({"output": "T1"}, {"output": "wibble"}, "not a unit that is read"),
        ({"time": "clock"}, {"time": "mm"}, "no unit of time"),
        ({}, {"force": "N"}, "no column: say --columns force=NAME"),
        ({"arm_mm": "0.25"}, {}, "not between 1 and 10000 mm"),
    ],
)
def test_what_makes_no_sense_is_told(columns: dict[str, str], units: dict[str, str], words: str) -> None:
    with pytest.raises(LogError, match=words):
        asked(Columns(), table().dialect, columns, units, {})


def test_names_tell_roles_only_where_there_is_no_doubt() -> None:
    found = guessed(table("output torque [N.m],input (lbf.in),elapsed").dialect)
    assert {role: column.unit for role, column in found.of.items()} == {
        "output": "N.m", "input": "lbf.in", "time": ""
    }  # fmt: skip
    assert "output" not in guessed(table("output 1,output 2,t").dialect).of
    assert set(guessed(table("force in N,angle rate,t").dialect).of) == {"force", "time"}


def test_kind_of_log() -> None:
    dialect = table("couple [N.m],gauge [mm],t [s]").dialect
    assert kind_of(guessed(dialect)) == "bracket"
    assert kind_of(guessed(table("output [N.m],input [N.m],angle [deg]").dialect)) == "couple"
    assert kind_of(guessed(table("couple [N.m],angle [deg],t [s]").dialect)) == "bracket"


def test_the_gauges_arm_is_remembered_with_the_columns(tmp_path: Path) -> None:
    log = table_of(b"couple [N.m],gauge [mm]\n1,0.1\n2,0.2\n")
    said = Said({}, {}, {}, {}, gauge_arm_mm=150.0)
    assert opened(log, said, tmp_path).columns.gauge_arm_mm == 150.0
    assert opened(log, Said({}, {}, {}, {}), tmp_path).columns.gauge_arm_mm == 150.0
    with pytest.raises(LogError, match="A gauge 0 mm from the shaft axis"):
        opened(log, Said({}, {}, {}, {}, gauge_arm_mm=0.0), tmp_path)
