"""`compare`: exit codes, what is printed, what is refused, the picture."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest

from app.cli.page import Page
from app.compare import picture
from app.editing.variants import with_variant
from app.mounted.frame import Image
from app.mounted.overlay import Words
from app.mounted.still import Still
from solver.results import Verdict
from tests.app.example_results import example_bracket, example_results, with_free_motion
from tests.app.running import Runner, lines_too_long
from tests.brackets import one_piece


@pytest.mark.parametrize(
    ("verdicts", "code"),
    [
        (("pass", "pass"), 0),
        (("pass", "fail"), 1),
        (("marginal", "pass"), 1),
        (("no verdict", "pass"), 2),
        (("no verdict", "fail"), 1),
    ],
)
def test_exit_code_is_that_of_the_worst(cli: Runner, verdicts: tuple[Verdict, Verdict], code: int) -> None:
    cli.answer(*(example_results(v) for v in verdicts))
    assert cli.run("compare", cli.bracket_file("a"), cli.bracket_file("b")).code == code


def test_text_says_which_is_better_and_why_with_every_figure(cli: Runner) -> None:
    cli.answer(example_results(), with_free_motion(example_results()))
    outcome = cli.run("compare", cli.bracket_file("one"), cli.bracket_file("two"))
    flat = " ".join(outcome.out.split())
    for words in (
        "one is better: it passes and holds to 71.3 N.m; two fails because the casing swings sideways",
        "All are held to the same loads and limits",
        "holds to 71.3 N.m 0 N.m \u221271.3 N.m",
        "cut length 308 mm 308 mm same",
        "friction share 21 % 21 % same",
        "What differs in the inputs nothing",
    ):
        assert words in flat
    assert not lines_too_long(outcome.out)


def test_four_layouts_stand_in_as_many_tables_as_the_page_needs_with_no_figure_cut(cli: Runner) -> None:
    cli.answer(*(example_results() for _ in range(4)))
    outcome = cli.run("compare", *(cli.bracket_file(name) for name in "pqrs"))
    figures = outcome.out[outcome.out.index("Other figures") : outcome.out.index("Checks, used share")]
    rows = [" ".join(line.split()) for line in figures.splitlines()]
    letters = [letter for letter in "ABCD" if any(letter in row.split() for row in rows)]
    assert letters == list("ABCD")
    holds = [row for row in rows if row.startswith("holds to")]
    assert sum(row.count("71.3 N.m") for row in holds) == 4
    assert sum(row.count("same") for row in holds) == 3
    assert not lines_too_long(outcome.out)


def test_json_has_values_and_differences(cli: Runner) -> None:
    cli.answer(example_results(), replace(example_results("marginal"), holds_to_nm=50.0))
    data = json.loads(cli.run("compare", cli.bracket_file("a"), cli.bracket_file("b"), "--json").out)
    assert data["better"] == "a"
    assert [one["verdict"] for one in data["layouts"]] == ["pass", "marginal"]
    holds = next(f for f in data["figures"] if f["name"] == "holds to")
    assert holds["values"] == [71.3, 50.0]
    assert holds["differences"] == [0.0, pytest.approx(-21.3)]


def test_variants_of_one_file_are_compared_with_its_drawn_layout(cli: Runner) -> None:
    one = one_piece()
    thin = one.with_plate(one.plates[0].but(thickness_mm=3.0))
    file = cli.bracket_file("car", with_variant(with_variant(one, "thin", thin), "as it is", one))
    cli.answer(example_results())
    outcome = cli.run("compare", file)
    assert [a["bracket"].plates[0].thickness_mm for a in cli.asked] == [6.0, 3.0, 6.0]
    assert "car (thin)" in outcome.out
    cli.run("compare", file, "--variant", "thin")
    assert len(cli.asked) == 5
    wrong = cli.run("compare", file, "--variant", "thick")
    assert wrong.code == 64
    assert "There is no variant thick" in wrong.err
    assert "thin, as it is" in wrong.err


def test_the_sawn_twin_stands_beside_its_bracket(cli: Runner) -> None:
    cli.answer(example_results())
    outcome = cli.run("compare", cli.bracket_file("car", one_piece()), "--sawn")
    assert [len(a["bracket"].plates) for a in cli.asked] == [1, 2]
    assert "car (sawn)" in outcome.out


def test_fewer_than_two_and_more_than_four_are_refused(cli: Runner) -> None:
    cli.answer(example_results())
    file = cli.bracket_file()
    for files in ([file], [file] * 5):
        outcome = cli.run("compare", *files)
        assert outcome.code == 64
        assert "2 to 4 layouts go side by side" in outcome.err
    assert not cli.asked


def test_a_file_that_cannot_be_read_stops_all_before_anything_is_judged(cli: Runner) -> None:
    cli.answer(example_results())
    outcome = cli.run("compare", cli.bracket_file(), "missing.bracket.json")
    assert outcome.code == 64
    assert "There is no file missing.bracket.json" in outcome.err
    assert not cli.asked


def test_the_picture_is_written_without_a_display(cli: Runner, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("DISPLAY", raising=False)
    bracket = example_bracket()
    cli.answer(replace(example_results(), hash=bracket.input_hash()))
    out = cli.folder / "both.png"
    assert cli.run("compare", cli.bracket_file("a"), cli.bracket_file("b"), "--picture", out).code == 0
    assert out.read_bytes().startswith(b"\x89PNG")


def test_a_picture_has_to_be_a_png(cli: Runner) -> None:
    cli.answer(example_results())
    outcome = cli.run("compare", cli.bracket_file("a"), cli.bracket_file("b"), "--picture", Path("both.pdf"))
    assert outcome.code == 64
    assert "PNG" in outcome.err
    assert not cli.asked


def test_a_table_wider_than_the_page_wraps_its_figures_and_cuts_none() -> None:
    page = Page(width=40, terminal=False, ascii_only=False)
    figures = [f"{number}234.5 N.m/deg" for number in range(1, 6)]
    page.table(("", *(f">{letter}" for letter in "ABCDE")), [("resists", *figures)])
    written = "ABCDE" + "resists" + "".join(figures)
    assert sorted("".join(page.text.split())) == sorted("".join(written.split()))


def test_in_inches_sentence_and_picture_tell_pounds_too(cli: Runner, monkeypatch: pytest.MonkeyPatch) -> None:
    drawn: list[str] = []

    def noted(image: Image, items: list[object], _scale: float) -> Image:
        drawn.extend(item.words for item in items if isinstance(item, Words))
        return image

    monkeypatch.setattr(picture, "overlaid", noted)
    monkeypatch.setattr(picture, "painter", Still)
    files = cli.bracket_file("a"), cli.bracket_file("b")
    for units, pounds in (("mm", False), ("inch", True)):
        drawn.clear()
        cli.answer(example_results(), with_free_motion(example_results()))
        out = cli.run("compare", *files, "--units", units, "--picture", cli.folder / "x.png").out
        assert ("lbf.ft" in out) is pounds
        words = " ".join(drawn)
        assert (words.count("lbf.ft") >= 3) is pounds
        assert "N.m" in words
