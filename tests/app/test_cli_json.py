"""`check --json`: the keys machines rely on."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from typing import Any

import pytest

from solver.results import CasingMovement
from tests.app.example_results import STRESS, example_results, with_free_motion
from tests.app.running import Runner


def _refuse(constant: str) -> float:
    raise AssertionError(f"{constant} is no JSON")


def _load(text: str) -> Any:  # noqa: ANN401 - any JSON
    return json.loads(text, parse_constant=_refuse)


def test_the_check_that_governs_is_named_where_nothing_moves_freely(cli: Runner) -> None:
    cli.answer(example_results())
    data = _load(cli.run("check", cli.bracket_file(), "--json").out)
    assert data["governs"] == "stress, plate front"
    assert data["governs"] in {check["name"] for check in data["checks"]}


def test_keys_are_those_promised(cli: Runner) -> None:
    cli.answer(with_free_motion(example_results()))
    outcome = cli.run("check", cli.bracket_file(), "--json")
    data = _load(outcome.out)
    promised = (
        "verdict reasons governs holds_to_nm ended_by checks casing friction_share free_motions bolts"
        " accuracy findings hash version"
    )
    assert set(promised.split()) <= set(data)
    check_keys = "name used demand allowable unit band source where by_hand"
    assert all(set(check_keys.split()) <= set(check) for check in data["checks"])
    assert {"turn_deg", "lean_deg", "movement_mm"} <= set(data["casing"])
    assert {"words", "driven_by"} <= set(data["free_motions"][0])
    assert {"name", "state", "shear_n", "tension_n", "spin_nm"} <= set(data["bolts"][0])
    assert data["verdict"] == "fail"
    assert data["governs"] == "free motion"
    assert data["friction_share"] == pytest.approx(0.21)
    assert data["turn_shares"][0] == {"part": "plate", "share": pytest.approx(0.412)}
    stress = next(c for c in data["checks"] if c["name"] == "stress, plate front")
    assert stress["used"] == pytest.approx(98.0 / 156.7)
    assert stress["by_hand"] == 60.0
    assert outcome.err == ""


def test_several_files_make_a_list(cli: Runner) -> None:
    cli.answer(example_results("pass"), example_results("no verdict"))
    outcome = cli.run("check", cli.bracket_file("one"), cli.bracket_file("two"), "nothing.json", "--json")
    data = _load(outcome.out)
    assert outcome.code == 64
    assert [d["verdict"] for d in data] == ["pass", "no verdict", "no verdict"]
    assert [d["exit_code"] for d in data] == [0, 2, 64]
    assert list(data[0]) == list(data[2])
    assert "nothing.json" in data[2]["reasons"][0]


def test_numbers_that_are_not_finite_become_null(cli: Runner) -> None:
    endless = replace(STRESS, allowable=0.0)
    nothing = replace(STRESS, demand=math.nan)
    casing = CasingMovement(math.inf, -math.inf, math.nan, 0.0)
    cli.answer(replace(example_results("fail"), checks=(endless, nothing), casing=casing))
    data = _load(cli.run("check", cli.bracket_file(), "--json").out)
    assert data["checks"][0]["used"] is None
    assert data["checks"][1]["demand"] is None
    assert data["casing"]["turn_deg"] is None


def test_inch_changes_the_checks_alone(cli: Runner) -> None:
    cli.answer(example_results())
    path = cli.bracket_file()
    metric = _load(cli.run("check", path, "--json").out)
    inch = _load(cli.run("check", path, "--json", "--units", "inch").out)
    stress = next(c for c in inch["checks"] if c["name"] == "stress, plate front")
    assert stress["unit"] == "ksi"
    assert stress["demand"] == pytest.approx(98.0 / 6.894757, rel=1e-4)
    assert {k: v for k, v in inch.items() if k != "checks"} == {
        k: v for k, v in metric.items() if k != "checks"
    }


def test_a_file_that_cannot_be_read_is_an_object_too(cli: Runner) -> None:
    path = cli.folder / "bad.bracket.json"
    path.write_text("{")
    outcome = cli.run("check", path, "--json")
    data = _load(outcome.out)
    assert outcome.code == 64
    assert data["verdict"] == "no verdict"
    assert data["findings"][0]["code"] == "file-truncated"
    assert "breaks off" in data["findings"][0]["sentence"]


def test_pencil_has_no_verdict(cli: Runner) -> None:
    cli.answer(example_results("pass"))
    outcome = cli.run("check", cli.bracket_file(), "--json", "--quick")
    data = _load(outcome.out)
    assert outcome.code == 2
    assert data["verdict"] == "no verdict"
    assert "not refined" in data["reasons"][0]
