"""`python3 app paper`: from a file to a PDF, and sentences for what cannot be."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.app.paper.papers import SAMPLES, computed, sample
from tests.app.running import Runner


@pytest.mark.parametrize("sheet", ["measuring", "template", "drawing", "assembly", "proof"])
def test_it_writes_a_pdf(sheet: str, cli: Runner) -> None:
    cli.answer(computed(sample("gauge_tray")))
    out = cli.folder / "out.pdf"
    outcome = cli.run(
        "paper", SAMPLES / "gauge_tray.bracket.json", "--sheet", sheet, "-o", out, "--size", "Letter"
    )
    assert outcome.code == 0, outcome.err
    assert len(PdfReader(out).pages) >= 1
    assert bool(cli.asked) is (sheet != "measuring")


@pytest.mark.parametrize(
    ("sheet", "told"),
    [
        ("measuring", ("3.5 N.m (2.58 lbf.ft)", "2 mm (0.0787 in)")),
        ("template", ("\u23009 (0.354 in)", "100 mm (3.94 in)", "2 mm (0.0787 in)")),
        ("drawing", ("Openings, inches from", "All in inches", "\u23000.354", "8.031", "R0.157")),
        ("assembly", ("N.m (", "lbf.ft)")),
        ("proof", ("19.7 in", "expected, in", "Readings, in", "lb")),
    ],
)
def test_for_an_inch_reader_a_sheet_tells_inches(sheet: str, told: tuple[str, ...], cli: Runner) -> None:
    """204 mm over all, holes of 9, sheet of 2: divided by 25.4."""
    cli.answer(computed(sample("gauge_tray")))

    def text(units: str) -> str:
        out = cli.folder / f"{units}.pdf"
        asked = ("paper", SAMPLES / "gauge_tray.bracket.json", "--sheet", sheet, "--units", units, "-o", out)
        assert cli.run(*asked).code == 0
        return " ".join(" ".join(page.extract_text().split()) for page in PdfReader(out).pages)

    inches, metric = text("inch"), text("mm")
    for words in told:
        assert words in inches
    assert " in)" not in metric
    assert "lbf" not in metric


def test_a_blank_measuring_sheet_needs_no_file(cli: Runner) -> None:
    assert cli.run("paper", "--sheet", "measuring", "-o", cli.folder / "m.pdf").code == 0
    assert (cli.folder / "m.pdf").read_bytes().startswith(b"%PDF")


def test_a_doubtful_file_gets_no_better_verdict_than_check_gives(cli: Runner) -> None:
    bracket = sample("gauge_tray")
    path = cli.bracket_file("here", bracket)
    path.write_text(path.read_text().replace('"title"', '"tilte": 1, "title"', 1))
    cli.answer(computed(bracket))
    checked = cli.run("check", path, "--json")
    word = json.loads(checked.out)["verdict"].upper()
    assert word != "PASS"
    assert cli.run("paper", path, "--sheet", "drawing", "-o", cli.folder / "d.pdf").code == 0
    text = " ".join(" ".join(p.extract_text().split()) for p in PdfReader(cli.folder / "d.pdf").pages)
    assert f": {word} for 30 N.m" in text
    assert "PASS" not in text


def test_a_template_says_what_the_bracket_was_judged_to_be(cli: Runner) -> None:
    cli.answer(replace(computed(sample("gauge_tray")), verdict="fail"))
    out = cli.folder / "t.pdf"
    code = cli.run("paper", SAMPLES / "gauge_tray.bracket.json", "--sheet", "template", "-o", out).code
    assert code == 0
    for page in PdfReader(out).pages:
        assert ": FAIL for 30 N.m" in " ".join(page.extract_text().split())


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--sheet", "drawing", "-o", "x.pdf"), "The drawing sheet needs a bracket file"),
        (
            ("nothing.bracket.json", "--sheet", "drawing", "-o", "x.pdf"),
            "There is no file nothing.bracket.json",
        ),
        (("here.bracket.json", "--sheet", "template", "-o", "x.svg"), "end its name in .pdf"),
        (("here.bracket.json", "--sheet", "template", "-o", "away/x.pdf"), "a folder that is there"),
        (("here.bracket.json", "--sheet", "templat", "-o", "x.pdf"), "'templat' is not one of"),
        (("here.bracket.json", "--sheet", "template", "-o", "x.pdf", "--size", "B5"), "'B5' is not one of"),
        (("here.bracket.json",), "paper needs a sheet and a PDF to write"),
        (
            ("empty.bracket.json", "--sheet", "template", "-o", "x.pdf"),
            "there is no plate in empty.bracket.json",
        ),
    ],
)
def test_wrong_usage_is_64_with_a_sentence(
    cli: Runner, options: tuple[str, ...], words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    cli.bracket_file("here")
    cli.bracket_file("empty", sample("gauge_tray").but(plates=(), bolts=()))
    monkeypatch.chdir(cli.folder)
    outcome = cli.run("paper", *options)
    assert outcome.code == 64
    assert words in " ".join(outcome.err.split())
    assert not Path("x.pdf").exists()


@pytest.mark.parametrize(
    ("arm", "code", "said"),
    [
        ("20 in", 0, ""),
        ("508", 0, ""),
        ("20", 64, "20 mm (0.787 in) does not lie between 50 and 3000 mm; a number alone is in mm"),
        ("wide", 64, "'wide' is not a quantity"),
    ],
)
def test_the_lever_is_typed_in_mm_or_in_any_unit(arm: str, code: int, said: str, cli: Runner) -> None:
    out = cli.folder / "card.pdf"
    file = cli.bracket_file("car")
    outcome = cli.run("paper", file, "--sheet", "measuring", "--arm", arm, "-o", out)
    assert outcome.code == code
    assert said in " ".join(outcome.err.split())
