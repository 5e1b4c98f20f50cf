"""`motion`, `handout` and `questions`: what is written, and what is refused in one sentence."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image
from pypdf import PdfReader

from app.lesson import motion_pictures
from app.lesson.turned import turned_of
from app.mounted import picture
from app.mounted.still import Still
from tests.app.lesson.made_results import made_results
from tests.app.lesson.samples import sample, two_straps
from tests.app.running import Runner
from tests.brackets import one_piece


@pytest.fixture(autouse=True)
def _few_small_frames(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(motion_pictures, "FRAMES", 2)
    monkeypatch.setattr(picture, "painter", Still)


def test_a_free_motion_needs_no_analysis(cli: Runner) -> None:
    cli.answer(AssertionError("nothing is to be judged"))
    file = cli.bracket_file("straps", two_straps())
    assert cli.run("motion", file, "-o", "out.gif", "--theme", "slate").code == 0
    with Image.open(cli.folder / "out.gif") as moving:
        assert moving.n_frames == 2  # type: ignore[attr-defined]
    assert cli.run("motion", file, "-o", "strip.png", "--free", "1").code == 0
    with Image.open(cli.folder / "strip.png") as strip:
        assert strip.width == 5 * strip.height
    assert not cli.asked


def test_a_load_case_is_judged_first(cli: Runner) -> None:
    bracket = one_piece()
    cli.answer(made_results(bracket))
    file = cli.bracket_file("plate", bracket)
    assert cli.run("motion", file, "-o", "out.gif", "--case", "couple +").code == 0
    assert len(cli.asked) == 1
    missing = cli.run("motion", file, "-o", "out2.gif", "--case", "no such")
    assert missing.code == 64
    assert "There is no load case 'no such': there is couple +; couple +, pull right." in missing.err
    assert not (cli.folder / "out2.gif").exists()


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("motion", "straps.bracket.json", "-o", "a.mov"), "is a .gif that moves or a .png strip"),
        (("motion", "straps.bracket.json", "-o", "no/a.gif"), "name a file in a folder that is there"),
        (("motion", "straps.bracket.json", "-o", "a.gif", "--free", "7"), "There is no free motion 7"),
        (
            ("motion", "straps.bracket.json", "-o", "a.gif", "--free", "1", "--case", "couple +"),
            "give --free or --case, not both",
        ),
        (("motion", "gone.bracket.json", "-o", "a.gif"), "gone.bracket.json"),
        (("handout", "straps.bracket.json", "-o", "a.png"), "end its name in .pdf"),
        (("questions", "straps.bracket.json", "-o", "no/a.pdf"), "name a file in a folder that is there"),
        (("handout", "gone.bracket.json", "-o", "a.pdf"), "gone.bracket.json"),
        (("motion",), "motion FILE -o OUT.gif"),
        (("handout",), "handout FILE -o OUT.pdf"),
        (("questions",), "questions FILE -o OUT.pdf"),
    ],
)
def test_what_is_refused(cli: Runner, arguments: tuple[str, ...], words: str) -> None:
    cli.bracket_file("straps", two_straps())
    outcome = cli.run(*arguments)
    assert outcome.code == 64
    assert words in " ".join(outcome.err.split())
    assert not list(Path(cli.folder).glob("a.*"))


def test_the_turned_plate_is_judged_when_asked_or_it_is_said_why_not(cli: Runner) -> None:
    bracket = sample("marlpit_one_piece")
    turned = turned_of(bracket).bracket
    assert turned is not None
    then = made_results(turned)
    then = replace(then, cases=tuple(replace(case, turn_deg=0.0377) for case in then.cases))
    cli.answer(made_results(bracket), then)
    file = cli.bracket_file("plate", bracket)
    assert cli.run("questions", file, "-o", "q.pdf", "--answers", "--turned").code == 0
    assert [one["bracket"] for one in cli.asked] == [bracket, turned]
    told = " ".join(page.extract_text() for page in PdfReader(cli.folder / "q.pdf").pages)
    assert "0.0377 deg along it" in " ".join(told.split())
    cli.answer(made_results(two_straps(), verdict="fail"))
    refused = cli.run("handout", cli.bracket_file("straps", two_straps()), "-o", "h.pdf", "--turned")
    assert refused.code == 64
    assert "Not turned here: this bracket is made of several plates." in " ".join(refused.err.split())
    assert not (cli.folder / "h.pdf").exists()


def test_papers_are_pdf_with_their_words(cli: Runner) -> None:
    bracket = two_straps()
    cli.answer(made_results(bracket, verdict="fail"))
    file = cli.bracket_file("straps", bracket)
    assert cli.run("handout", file, "-o", "h.pdf").code == 0
    assert cli.run("questions", file, "-o", "q.pdf").code == 0
    assert cli.run("questions", file, "-o", "a.pdf", "--answers").code == 0
    assert len(PdfReader(cli.folder / "h.pdf").pages) == 2
    texts = {
        name: " ".join(
            " ".join(page.extract_text().split()) for page in PdfReader(cli.folder / f"{name}.pdf").pages
        )
        for name in "hqa"
    }
    assert "58.8 kg" in texts["h"]
    assert "nothing but friction stops it" not in texts["q"]
    assert "nothing but friction stops it" in texts["a"]


def test_for_an_inch_reader_questions_and_choices_tell_pounds_too(cli: Runner) -> None:
    bracket = two_straps()
    cli.answer(made_results(bracket, verdict="fail"))
    file = cli.bracket_file("straps", bracket)

    def text(units: str) -> str:
        assert cli.run("questions", file, "-o", "q.pdf", "--units", units).code == 0
        pages = PdfReader(cli.folder / "q.pdf").pages
        return " ".join(" ".join(page.extract_text().split()) for page in pages)

    inches = text("inch")
    assert "lbf.ft). How heavy a person" in inches
    assert inches.count("lb)") >= 3
    assert "lb" not in text("mm")
