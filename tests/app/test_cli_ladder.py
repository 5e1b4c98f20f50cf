"""`ladder`: exit codes, table, files, what is refused, being stopped."""

from __future__ import annotations

import json
from collections.abc import Callable, Generator, Sequence

import pytest

from app.ladder.rung import Answer
from geometry.bracket import Bracket
from solver.results import Verdict
from tests.app.running import Runner, lines_too_long
from tests.brackets import one_piece

Says = Callable[[float], Verdict]


@pytest.fixture
def crew(monkeypatch: pytest.MonkeyPatch, cli: Runner) -> Callable[[Says], None]:
    """Return what puts a crew in place that answers by the thickness; it stops by a key at 99 mm."""
    monkeypatch.setenv("HOLDSQUARE_DATA", str(cli.folder / "data"))

    def put(says: Says) -> None:
        class Crew:
            def __init__(self, count: int) -> None:
                assert count > 0

            def judge(self, brackets: Sequence[Bracket]) -> Generator[tuple[Bracket, Answer], None, None]:
                for bracket in brackets:
                    thickness = bracket.plates[0].thickness_mm
                    if thickness == 99.0:
                        raise KeyboardInterrupt
                    answer = Answer(
                        verdict=says(thickness), holds_to_nm=thickness, reason="it bends", mass_kg=1.0
                    )
                    yield bracket, answer

        monkeypatch.setattr("app.ladder.crew.Crew", Crew)

    return put


@pytest.mark.parametrize(
    ("says", "code"),
    [
        (lambda t: "pass" if t > 4 else "fail", 0),
        (lambda t: "fail", 1),
        (lambda t: "marginal", 1),
        (lambda t: "no verdict" if t > 4 else "fail", 2),
    ],
)
def test_exit_code_says_whether_a_step_passes(
    cli: Runner, crew: Callable[[Says], None], says: Says, code: int
) -> None:
    crew(says)
    file = cli.bracket_file("car", one_piece())
    assert cli.run("ladder", file, "--vary", "plate.thickness=3,4,5,6").code == code


def test_the_table_the_least_and_the_files(cli: Runner, crew: Callable[[Says], None]) -> None:
    crew(lambda t: "pass" if t > 4 else "fail")
    file = cli.bracket_file("car", one_piece())
    csv, png = cli.folder / "l.csv", cli.folder / "l.png"
    outcome = cli.run("ladder", file, "--vary", "plate.thickness=6,3,5", "--csv", csv, "--picture", png)
    flat = " ".join(outcome.out.split())
    assert "The least that passes: plate.thickness 5 mm, holds to 5.00 N.m" in flat
    assert "5 mm PASS < least" in flat
    assert "plate.thickness 3 mm - fail: it bends" in flat
    assert not lines_too_long(outcome.out)
    assert csv.read_text("utf-8-sig").startswith("plate.thickness (mm),verdict")
    assert png.read_bytes().startswith(b"\x89PNG")
    again = cli.run("ladder", file, "--vary", "plate.thickness=6,3,5", "--json")
    data = json.loads(again.out)
    assert data["least"] == [["5"]]
    assert [r["verdict"] for r in data["rungs"]] == ["fail", "pass", "pass"]


def test_stopped_by_a_key_it_ends_with_what_is_there(cli: Runner, crew: Callable[[Says], None]) -> None:
    crew(lambda t: "pass" if t > 4 else "fail")
    file, csv = cli.bracket_file("car", one_piece()), cli.folder / "l.csv"
    outcome = cli.run("ladder", file, "--vary", "plate.thickness=3,5,99", "--csv", csv)
    assert outcome.code == 130
    assert "The least that passes so far: plate.thickness 5 mm" in " ".join(outcome.out.split())
    assert "1 of 3 steps are not judged" in " ".join(outcome.out.split())
    assert len(csv.read_text("utf-8-sig").splitlines()) == 3
    assert "only what stands above was judged" in outcome.err


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--vary", "plate.thicknes=3"), "did you mean plate.thickness?"),
        (("--vary", "plate.thickness=3", "--picture", "out.pdf"), "PNG"),
        (("--vary", "plate.thickness=3", "--csv", "nowhere/out.csv"), "cannot be written"),
        (("--vary", "plate.thickness=3", "--csv", "out.xls"), "end its name in .csv"),
        (("--vary", "plate.thickness=3", "--workers", "2", "--scheduler", "tcp://a:1"), "one of the two"),
        ((), "what to vary"),
    ],
)
def test_bad_usage_is_64_with_the_next_step(
    cli: Runner, crew: Callable[[Says], None], arguments: tuple[str, ...], words: str
) -> None:
    crew(lambda t: "pass")
    outcome = cli.run("ladder", cli.bracket_file("car", one_piece()), *arguments)
    assert outcome.code == 64
    assert words in " ".join(outcome.err.split())


def test_keys_are_listed(cli: Runner) -> None:
    outcome = cli.run("ladder", "--keys")
    assert outcome.code == 0
    assert "plate.NAME.thickness" in outcome.out
    assert "bar.wall" in outcome.out


def test_an_inch_reader_gets_inches(cli: Runner, crew: Callable[[Says], None]) -> None:
    """4 mm are 0.1575 in, 4 N.m 2.95 lbf.ft, 1 kg 2.20 lb."""
    crew(lambda t: "pass")
    file = cli.bracket_file("car", one_piece())
    out = cli.run("ladder", file, "--vary", "plate.thickness=4", "--units", "inch").out
    assert "holds to lbf.ft" in out
    (row,) = [line.split() for line in out.splitlines() if "PASS" in line]
    assert (row[:2], row[-1]) == (["0.1575", "in"], "2.20")
    assert "2.95" in row
    assert "lbf" not in cli.run("ladder", file, "--vary", "plate.thickness=4").out


def test_what_a_file_could_not_say_stands_against_every_step(
    cli: Runner, crew: Callable[[Says], None]
) -> None:
    """A key nobody knows was left out: it may be what would have failed, so no step passes."""
    crew(lambda t: "pass" if t > 4 else "fail")
    file = cli.bracket_file("car", one_piece())
    data = json.loads(file.read_text("utf-8"))
    data["loads"]["ful_n"] = 900
    file.write_text(json.dumps(data), "utf-8")
    for _ in range(2):  # judged, then kept: what is kept is of the bracket and not of its file
        outcome = cli.run("ladder", file, "--vary", "plate.thickness=3,5", "--json")
        told = json.loads(outcome.out)
        assert outcome.code == 2
        assert [rung["verdict"] for rung in told["rungs"]] == ["fail", "no verdict"]
        assert "ful_n is not known there" in told["rungs"][1]["reason"]
        assert told["least"] == []
    del data["loads"]["ful_n"]
    file.write_text(json.dumps(data), "utf-8")
    assert cli.run("ladder", file, "--vary", "plate.thickness=3,5").code == 0
