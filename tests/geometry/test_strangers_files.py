"""Bracket files of strangers: what the trial of strangers' files found in them, cut down."""

from __future__ import annotations

import json
import time
from pathlib import Path

import pytest

from app.paper.bolts_to_buy import bolts_to_buy
from app.record.given_file import GivenFileError, read_limits
from app.record.record_file import record_of
from geometry.bracket_file import bracket_of
from geometry.file_text import MOST_ITEMS, MOST_KEYS
from geometry.findings import findings_of

SAMPLE = Path(__file__).parents[2] / "sample_brackets" / "marlpit_one_piece.bracket.json"
HEAD = '{"format":"holdsquare bracket","version":1,'
TOLERABLE_S = 5.0
"""Of the processor, for any file: the rule of the trial."""


def test_of_two_bolts_with_one_name_one_may_join_a_boss_that_is_not_there() -> None:
    data = json.loads(SAMPLE.read_text(encoding="utf-8"))
    bolt = next(b for b in data["bolts"] if b["joins"]["to"] == "boss")
    data["bolts"].insert(0, bolt | {"joins": bolt["joins"] | {"boss": "nowhere"}})
    bracket = bracket_of(json.dumps(data).encode()).bracket
    assert bracket is not None
    assert any(finding.severity == "stop" for finding in findings_of(bracket))
    assert bolt["name"] not in bolts_to_buy(bracket)


@pytest.mark.parametrize("within", ["", '"plates":[{', '"installation":{'])
def test_a_group_with_a_quarter_million_unknown_keys_is_refused_in_time(within: str) -> None:
    keys = ",".join(f'"plate{k}":1' for k in range(200_000))
    close = {"": "", '"plates":[{': "}]", '"installation":{': "}"}[within]
    began = time.process_time()
    reading = bracket_of(f"{HEAD}{within}{keys}{close}}}".encode())
    assert time.process_time() - began < TOLERABLE_S
    assert f"keys in one group and the most that is read is {MOST_KEYS}" in reading.sentences[0]


def test_thousands_of_openings_on_each_other_are_told_in_time() -> None:
    data = json.loads(SAMPLE.read_text(encoding="utf-8"))
    data["plates"][0]["openings"] += [
        {"kind": "hole", "name": f"h{k}", "centre_mm": [0.001 * k, 0.0], "diameter_mm": 30.0}
        for k in range(2_500)
    ]
    bracket = bracket_of(json.dumps(data).encode()).bracket
    assert bracket is not None
    began = time.process_time()
    findings = findings_of(bracket)
    assert any(finding.code == "opening-touches-opening" for finding in findings)
    assert time.process_time() - began < 2.0 * TOLERABLE_S


def test_a_list_longer_than_any_is_refused() -> None:
    reading = bracket_of(f'{HEAD}"plates":[{"7," * MOST_ITEMS}7]}}'.encode())
    assert reading.bracket is None
    assert "entries in one list" in reading.sentences[0]


@pytest.mark.parametrize("sign", ["[]", '""', "{}", "\u200b"])
def test_a_record_of_one_sign_over_and_over_is_refused_in_time(sign: str) -> None:
    began = time.process_time()
    reading = record_of((sign * (50_000_000 // len(sign.encode()))).encode())
    assert time.process_time() - began < TOLERABLE_S
    assert reading.record is None
    assert len(reading.sentences) == 1


def test_of_a_thousand_wrong_limits_the_first_are_told(tmp_path: Path) -> None:
    path = tmp_path / "profile.json"
    cautions = ",".join(["7"] * 20_000)
    head = '{"format":"holdsquare profile","version":1'
    path.write_text(f'{head},"cautions":[{cautions}]}}', encoding="utf-8")
    with pytest.raises(GivenFileError) as refused:
        read_limits(path)
    lines = str(refused.value).splitlines()
    assert len(lines) <= 31
    assert "more such things are wrong" in lines[-1]
