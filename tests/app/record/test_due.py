"""Days by which conditions and lines are to be settled; records without any keep opening."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest

from app.editing.refused import EditRefused
from app.record.due import (
    conditions_told,
    is_overdue,
    line_due,
    still_due,
    with_conditions,
    with_line_due,
)
from app.record.open_items import open_items
from app.record.record import Due
from app.record.record_file import read_record, save_record
from tests.app.record.examples import locked_bracket, settled_record


def test_a_condition_is_typed_with_its_day_and_told_as_it_was_typed() -> None:
    typed = ["refit bolt 3 by 2031-05-30", "stand by the car", "weld, by 2031-06-01, done 2031-05-20."]
    record = with_conditions(settled_record(), typed)
    assert record.conditions == ("refit bolt 3", "stand by the car", "weld")
    assert conditions_told(record) == (
        "refit bolt 3 by 2031-05-30",
        "stand by the car",
        "weld by 2031-06-01, done 2031-05-20",
    )
    assert still_due(record) == (Due(words="refit bolt 3", by="2031-05-30"),)
    assert with_conditions(record, conditions_told(record)) == record
    assert with_conditions(record, []).due == ()
    with pytest.raises(EditRefused, match="2031-13-30 is no day"):
        with_conditions(record, ["refit bolt 3 by 2031-13-30"])


def test_a_line_is_due_until_it_is_settled() -> None:
    record = with_line_due(settled_record().with_item(4, state="not met"), 4, "2031-05-30")
    assert line_due(record, 4) == "2031-05-30"
    (due,) = still_due(record)
    assert is_overdue(due, date(2031, 5, 31))
    assert not is_overdue(due, date(2031, 5, 30))
    said = [item.words for item in open_items(record, None, locked_bracket()) if item.line == 4]
    assert said[0].endswith("not met; by 2031-05-30")
    # conditions that are typed later leave it alone
    assert line_due(with_conditions(record, ["refit by 2031-04-01"]), 4) == "2031-05-30"
    assert still_due(record.with_item(4, state="met")) == ()
    assert line_due(with_line_due(record, 4, " "), 4) == ""


def test_a_record_of_before_opens_and_one_with_days_comes_back(tmp_path: Path) -> None:
    path = tmp_path / "x.record.json"
    save_record(path, settled_record())
    data = json.loads(path.read_text())
    data.pop("due", None)
    path.write_text(json.dumps(data))
    assert read_record(path).record == settled_record()
    dated = with_conditions(settled_record(), ["refit by 2031-04-01"])
    save_record(path, dated)
    assert read_record(path).record == dated
