"""`report` on the command line: what it writes, its exit codes, and what can go wrong."""

from __future__ import annotations

import json
from pathlib import Path
from types import SimpleNamespace

import pytest
from pypdf import PdfReader

from app.record import judging
from app.record.comparison import Judgements
from app.record.record_file import save_record
from app.report import attached
from geometry.bracket_file import read_bracket
from solver.results import Verdict
from solver.trials import Trial
from tests.app.example_results import example_bracket
from tests.app.record.examples import clear_results, locked_bracket, settled_record
from tests.app.report.reports import plain_results
from tests.app.report.test_attached import in_this_process, pdf_with
from tests.app.running import Runner

TRIAL = Trial("thickness of front", "6 mm", "5 mm", "fail", "slip", 1.2, 20.0, "slip is used up")


@pytest.fixture
def bench(cli: Runner, monkeypatch: pytest.MonkeyPatch) -> Runner:
    monkeypatch.setattr(attached, "_taken_apart", in_this_process)

    def judged_for(*_: object, **given: object) -> Judgements:
        results = clear_results("pass", plates=())
        return Judgements(under_profile=results, file_findings=given["file_findings"])  # type: ignore[arg-type]

    monkeypatch.setattr(judging, "judged_for", judged_for)
    turned = SimpleNamespace(trials=(TRIAL,))
    cli.stand_in("solver.one_at_a_time", one_at_a_time=lambda *_, **__: turned)
    return cli


def text_of(path: Path) -> str:
    return " ".join(" ".join(p.extract_text().split()) for p in PdfReader(path).pages)


@pytest.mark.parametrize(("verdict", "code"), [("pass", 0), ("marginal", 1), ("fail", 1), ("no verdict", 2)])
def test_it_ends_as_the_verdict_does(bench: Runner, verdict: Verdict, code: int) -> None:
    file = bench.bracket_file()
    bench.answer(plain_results(example_bracket(), verdict=verdict))
    for name in ("x.pdf", "x.html"):
        outcome = bench.run("report", file, "-o", bench.folder / name)
        assert (outcome.code, outcome.out, outcome.err) == (code, "", "")
    assert verdict.upper() in text_of(bench.folder / "x.pdf")
    assert "thickness of front 6 mm 5 mm FAIL" in text_of(bench.folder / "x.pdf")
    assert verdict.upper() in (bench.folder / "x.html").read_text()


def test_the_record_beside_the_file_goes_along(bench: Runner) -> None:
    file = bench.bracket_file(bracket=locked_bracket())
    record = settled_record()
    save_record(bench.folder / "marlpit.record.json", record)
    assert bench.run("report", file, "-o", bench.folder / "x.pdf").code == 0
    said = text_of(bench.folder / "x.pdf")
    assert "Record of the inspection" in said
    assert "judged under the program's defaults" in said.casefold()
    held = PdfReader(bench.folder / "x.pdf").attachments
    assert held["marlpit.bracket.json"] == [file.read_bytes()]
    assert held["marlpit.record.json"] == [(bench.folder / "marlpit.record.json").read_bytes()]


def test_every_command_opens_the_bracket_in_a_report(bench: Runner) -> None:
    file = bench.bracket_file(bracket=locked_bracket())
    save_record(bench.folder / "marlpit.record.json", settled_record())
    away = bench.folder / "away"
    away.mkdir()
    report = away / "theirs.pdf"
    assert bench.run("report", file, "-o", report).code == 0
    bench.answer(plain_results(locked_bracket()))
    checked = bench.run("check", report)
    assert checked.code == 0
    assert "PASS" in checked.out
    recorded = bench.run("record", report)
    assert "Not decided" in recorded.out  # its record came along: without one every line would be open
    assert bench.run("cut", report, "-o", away / "x.svg").code == 0
    said = " ".join(bench.run("record", report).out.split())
    assert "This is the record carried in the report" in said
    assert "There is no record yet" not in said
    again = away / "again.pdf"
    assert bench.run("report", report, "-o", again).code == 0
    held = PdfReader(again).attachments
    assert held["theirs.bracket.json"] == [file.read_bytes()]
    assert held["theirs.record.json"] == [(bench.folder / "marlpit.record.json").read_bytes()]
    assert sorted(p.name for p in away.iterdir()) == ["again.pdf", "theirs.pdf", "x.svg"]


def test_what_is_wrong_with_the_file_goes_along_too(bench: Runner) -> None:
    file = bench.bracket_file()
    data = json.loads(file.read_text())
    data["casing"]["mass_kg"] = "four"
    file.write_text(json.dumps(data))
    found = read_bracket(file)
    assert found.findings
    assert found.bracket is not None
    bench.answer(plain_results(found.bracket))
    assert bench.run("report", file, "-o", bench.folder / "x.pdf").code != 0
    carried = attached.read_any(bench.folder / "x.pdf")
    assert [f.code for f in carried.findings] == [f.code for f in found.findings]


@pytest.mark.parametrize(
    ("name", "sentence"),
    [("x.txt", "end its name in .pdf or .html"), ("gone/x.pdf", "name a file in a folder that is there")],
)
def test_a_bad_name_is_said_before_anything_is_computed(bench: Runner, name: str, sentence: str) -> None:
    outcome = bench.run("report", bench.bracket_file(), "-o", bench.folder / name)
    assert outcome.code == 64
    assert sentence in " ".join(outcome.err.split())
    assert bench.asked == []


def test_a_full_disk_leaves_nothing(bench: Runner, monkeypatch: pytest.MonkeyPatch) -> None:
    file = bench.bracket_file()
    bench.answer(plain_results(example_bracket()))

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("geometry.file_replacing.os.fsync", full)
    outcome = bench.run("report", file, "-o", bench.folder / "x.pdf")
    assert outcome.code == 64
    assert "No space left on device" in " ".join(outcome.err.split())
    assert [p.name for p in bench.folder.iterdir()] == [file.name]


def test_foreign_pdfs_and_missing_files_are_one_sentence(bench: Runner) -> None:
    foreign = bench.folder / "theirs.pdf"
    foreign.write_bytes(pdf_with(("notes.txt", b"x")))
    for command in ("check", "record"):
        outcome = bench.run(command, foreign)
        assert outcome.code == 64
        assert "carries no bracket" in " ".join((outcome.out + outcome.err).split())
    outcome = bench.run("report", foreign, "-o", bench.folder / "x.pdf")
    assert (outcome.code, " ".join(outcome.err.split()).count("carries no bracket")) == (64, 1)
    outcome = bench.run("report", bench.folder / "gone.bracket.json", "-o", bench.folder / "x.pdf")
    assert outcome.code == 64
    assert "gone.bracket.json" in outcome.err
