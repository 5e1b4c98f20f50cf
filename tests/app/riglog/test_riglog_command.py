from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import matplotlib.image
import pytest

from app.cli import riglog_follow
from app.riglog.opened import Said
from geometry.bracket_file import read_bracket
from tests.app.conftest import cli as cli
from tests.app.example_results import example_results
from tests.app.riglog.invented import bracket_log_text, couple_log_text
from tests.app.riglog.test_bracket_log import SOFT, STIFF, answer
from tests.app.running import Runner


@pytest.fixture(autouse=True)
def _own_memory(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("HOLDSQUARE_DATA", str(tmp_path / "data"))


def log_file(cli: Runner, text: str) -> Path:
    path = cli.folder / "rig.csv"
    path.write_text(text)
    return path


def test_couple_log_told_written_into_a_bracket_and_drawn(cli: Runner) -> None:
    log, out, png = log_file(cli, couple_log_text()), cli.folder / "new.bracket.json", cli.folder / "rig.png"
    outcome = cli.run(
        "riglog", log, "--columns", "arm_mm=250", "--bracket", cli.bracket_file(), "-o", out, "--picture", png
    )
    assert outcome.code == 0, outcome.err
    assert "Peak couple 31.1 N.m" in outcome.out
    assert "rotor inertia, from fast rows" in outcome.out
    assert "the factor on it from 2 to 1.5" in " ".join(outcome.out.split())
    bracket = read_bracket(out).bracket
    assert bracket is not None
    assert bracket.loads.couple.measured
    assert bracket.loads.couple.value_nm == pytest.approx(31.1, abs=0.1)
    assert matplotlib.image.imread(png).shape[:2] == (600, 960)
    again = cli.run("riglog", log, "--json")
    found = json.loads(again.out)
    assert found["columns"]["arm"]["figure"] == 250.0  # remembered
    assert found["couple"]["cycles"] == 8
    assert found["couple"]["rotor_inertia"]["kg_m2"] == pytest.approx(0.045, rel=0.05)


def test_bracket_log_held_against_what_is_foretold(cli: Runner) -> None:
    answers = (
        answer("stuck", SOFT, 4500),
        answer("stuck", STIFF, 7000),
        answer("all slipped", SOFT, 4000),
    )
    cli.answer(replace(example_results(), casing_answers=answers))
    log, png = log_file(cli, bracket_log_text()), cli.folder / "rig.png"
    held = ("--bracket", cli.bracket_file(), "--picture", png, "--theme", "slate")
    asked = cli.run("riglog", log, *held)
    assert asked.code == 2
    assert "--gauge-arm" in asked.err
    outcome = cli.run("riglog", log, *held, "--gauge-arm", "400")
    assert outcome.code == 0, outcome.err
    assert "lies within the 3920 to 7140 N.m/deg foretold" in " ".join(outcome.out.split())
    assert matplotlib.image.imread(png).shape[:2] == (600, 960)
    found = json.loads(cli.run("riglog", log, "--json").out)["bracket"]
    assert found["stiffness_nm_per_mm"] == pytest.approx(716.2, rel=0.02)
    assert found["dead_band_told_from_none"]


def test_swapped_channels_give_no_figure(cli: Runner) -> None:
    swapped = "output=input torque [N.m],input=output torque [N.m]"
    log = log_file(cli, couple_log_text())
    outcome = cli.run("riglog", log, "--columns", swapped, "--columns", "arm=250")
    assert outcome.code == 2
    assert "look swapped" in " ".join(outcome.out.split())
    assert "Peak" not in outcome.out


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--columns", "output=torque"), "There is no column 'torque'"),
        (("--columns", "output"), "--columns takes KEY=VALUE pairs"),
        (("--zero", "output=much"), "The zero of output is a number in N.m"),
        (("--zero", "wheel=1"), "'wheel' has no zero"),
        (("--signs", "output=up"), "The sign of output is + or -"),
        (("--follow", "--json"), "leave --json"),
        (("-o", "x.bracket.json"), "name the bracket with --bracket FILE"),
        (("--picture", "x.jpg"), "end its name in .png"),
    ],
)
def test_bad_usage_is_told(cli: Runner, arguments: tuple[str, ...], words: str) -> None:
    outcome = cli.run("riglog", log_file(cli, couple_log_text()), *arguments)
    assert outcome.code == 64
    assert words in " ".join(outcome.err.split())


def test_a_still_gauge_says_it_cannot_give_stiffness(cli: Runner) -> None:
    rows = "\n".join(f"{k / 10},{30 * ((k % 40) / 20 - 1)},0.1" for k in range(400))
    outcome = cli.run("riglog", log_file(cli, f"time [s],couple [N.m],gauge [mm]\n{rows}\n"))
    assert outcome.code == 2
    assert "a log without movement cannot give a stiffness" in " ".join(outcome.err.split())
    assert cli.run("riglog", cli.folder / "none.csv").code == 64


def test_a_growing_log_is_told_as_it_grows(cli: Runner, capsys: pytest.CaptureFixture[str]) -> None:
    lines = bracket_log_text().splitlines(keepends=True)
    path = log_file(cli, "".join(lines[:3]))
    said = Said({}, {}, {}, {})

    def grow(seconds: float) -> None:
        del seconds
        path.write_text("".join(lines[: min(3 + 700 * len(grown), len(lines))]))
        grown.append(1)

    grown = [1]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(riglog_follow.time, "sleep", grow)
        assert riglog_follow.follow(path, said, 0.0, polls=6) == 0
    out = capsys.readouterr().out
    assert "2 rows. Only 2 rows hold both" in out
    assert "2880 rows. Stiffness 716.5 N.m/mm" in out


def test_an_inch_reader_gets_inches_and_may_type_the_arm_in_them(cli: Runner) -> None:
    """716.5 N.m/mm are 13 423 lbf.ft/in, by 25.4 mm and 1.35582 N.m; 0.0241 mm are 0.000949 in."""
    log = log_file(cli, bracket_log_text())
    flat = " ".join(cli.run("riglog", log, "--units", "inch", "--gauge-arm", "15.75 in").out.split())
    assert "stiffness 13423 45.0 lbf.ft/in" in flat
    assert "dead band 0.0241 mm (0.000949 in)" in flat
    assert "goes over at 6.65 lbf.ft" in flat
    assert "lbf" not in cli.run("riglog", log).out
    bad = cli.run("riglog", log, "--gauge-arm", "0.01 in")
    assert bad.code == 64
    assert "0.254 mm (0.0100 in) does not lie between 1 and 5000 mm" in " ".join(bad.err.split())


def test_a_bracket_that_was_read_in_part_is_not_written_again(cli: Runner) -> None:
    """Written without the key nobody knew, nothing would stand against its verdict any more."""
    file, out = cli.bracket_file(), cli.folder / "new.bracket.json"
    file.write_text(file.read_text("utf-8").replace('"loads": {', '"loads": {"ful_n": 900, ', 1), "utf-8")
    log = log_file(cli, couple_log_text())
    outcome = cli.run("riglog", log, "--columns", "arm_mm=250", "--bracket", file, "-o", out)
    assert outcome.code == 64
    assert "ful_n is not known there and was left out" in " ".join(outcome.err.split())
    assert not out.exists()
    assert cli.run("riglog", log, "--columns", "arm_mm=250", "--bracket", file).code == 0
