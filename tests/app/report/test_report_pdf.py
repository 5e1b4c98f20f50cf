"""The report as PDF: read back by another library, measured on its pages, made twice."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from pypdf import PdfReader

from app.paper.job import HASH_SHOWN
from app.paper.page import Page, paper_mm
from app.paper.paper_names import PaperName
from app.paper.pdf import PaperError, width_mm
from app.report.as_pages import laid_out
from app.report.attached import read_carried
from app.report.blocks import Heading, NewPage, Paragraph
from app.report.job import ReportJob
from app.report.report_file import report_blocks, report_pdf, write_report
from geometry.bracket import Bracket
from geometry.bracket_file import bracket_of
from geometry.file_writing import bracket_text, part_text
from geometry.plate import Hole
from solver.version import VERSION
from tests.app.example_results import example_bracket, with_free_motion
from tests.app.paper.test_every_page import faults, hard_bracket
from tests.app.record.examples import locked_bracket, settled_record
from tests.app.report.reports import FILE, field_of, plain_results, record_part, report_job, unsolved_job

HOSTILE = (
    "<script>alert(1)</script>",
    "\u202egnihtemos\u202c left of right",
    "two\nlines\rand\ta tab",
    "x" * 80,
    "../../etc/passwd",
    "\u4e2d\u6587 \u05e9\u05dc\u05d5\u05dd",
)


def pages_of(job: ReportJob) -> tuple[Page, ...]:
    return laid_out(job, report_blocks(job), width_mm)


def texts(content: bytes) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(content)).pages]


def test_another_library_reads_pages_hash_version_and_what_is_attached() -> None:
    bracket = locked_bracket()
    record = settled_record(bracket)
    content = part_text(record).encode()
    job = report_job(bracket, part=record_part(record, bracket), record_content=content)
    made = report_pdf(job)
    pages = texts(made)
    assert len(pages) >= 4
    for number, text in enumerate(pages, start=1):
        assert f"page {number} of {len(pages)}" in text
        assert f"Holdsquare {VERSION}" in text
        assert job.input_hash[:HASH_SHOWN] in text
        assert FILE in text
    attached = PdfReader(io.BytesIO(made)).attachments
    assert attached["marlpit.bracket.json"] == [bracket_text(bracket).encode()]
    assert attached["marlpit.record.json"] == [content]
    assert bracket_of(attached["marlpit.bracket.json"][0]).bracket == bracket


def test_the_front_says_verdict_couple_source_and_what_governs_before_anything_else() -> None:
    first = texts(report_pdf(report_job()))[0]
    order = ["PASS", "30 N.m", "stated by the builder", "holds to 71.3 N.m", "Why", "Governs", "by hand 60"]
    places = [first.index(words) for words in order]
    assert places == sorted(places)


def test_everything_behind_the_verdict_is_in_the_text() -> None:
    job = report_job(record_content=None)
    text = " ".join(" ".join(texts(report_pdf(job))).split())
    for words in (
        "What the verdict rests on", "Every reason of the verdict", "Assumptions", "Inputs", "Every check",
        "formula: von Mises stress", "source: EN 1993-1-8 table 3.4", "by hand 60.0 MPa", "One bolt lost",
        "Accuracy", "41 000, then 103 000", "Not computed", "Crash and occupant load.", "Cautions",
        "Do not weld steering shafts.",
    ):  # fmt: skip
        assert words in text


def test_what_is_looser_than_the_default_is_flagged_on_the_front() -> None:
    bracket = example_bracket()
    loose = bracket.but(limits=bracket.limits.but(turn_deg=0.5))
    assert "LOOSER than the default" in texts(report_pdf(report_job(loose)))[0]
    assert "LOOSER" not in texts(report_pdf(report_job(bracket)))[0]
    mild = bracket.but(loads=bracket.loads.but(factor=1.0, pull_n=5))
    front = " ".join(texts(report_pdf(report_job(mild)))[0].split())
    assert "LOOSER than usual: the factor on the couple is 1, lower than the usual 2" in front
    assert "LOOSER than usual: a pull of 5 N at the wheel is lower than the usual 300 N" in front
    rough = bracket.but(bolts=(bracket.bolts[0].but(face_friction=0.45), *bracket.bolts[1:]))
    front = " ".join(texts(report_pdf(report_job(rough)))[0].split())
    assert "LOOSER than usual: friction 0.45 on the faces of bolt" in front


def test_a_fail_by_a_free_motion_says_so_and_how_the_casing_moves() -> None:
    bracket = example_bracket()
    failed = with_free_motion(plain_results(bracket))
    first = "\n".join(texts(report_pdf(report_job(bracket, failed)))[:2])
    assert "FAIL" in first
    assert "free motion that load cases drive" in first
    assert "the casing swings sideways about the dash bar" in first


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("kind", ["example", "record", "blank", "hard", "field"])
def test_nothing_is_off_a_page_or_over_something_else(kind: str, paper: PaperName) -> None:
    bracket = example_bracket()
    if kind == "blank":
        job = unsolved_job(Bracket(), paper)
    elif kind == "hard":
        job = unsolved_job(hard_bracket(), paper)
    elif kind == "record":
        record = settled_record(locked_bracket()).but(remarks="word " * 400, reason="x" * 300)
        job = report_job(locked_bracket(), part=record_part(record, locked_bracket()), paper=paper)
    elif kind == "field":
        field = field_of(bracket, 0.2, 1.4)
        job = report_job(bracket, plain_results(bracket, plates=(field,)), paper=paper)
    else:
        job = report_job(bracket, paper=paper, units="inch")
    pages = pages_of(job)
    assert {(page.width_mm, page.height_mm) for page in pages} == {paper_mm(paper)}
    found = [fault for page in pages for fault in faults(page)]
    if kind == "hard":  # balloons of more bolts than there is room for lie over one another
        found = [fault for fault in found if "off the page" in fault]
    assert found == []
    # head and foot are five marks; a page that holds no more is empty
    assert all(len(page.marks) > 8 for page in pages)


@pytest.mark.parametrize("name", HOSTILE)
def test_names_from_strangers_neither_break_nor_leave_the_page(name: str) -> None:
    bracket = example_bracket()
    plate = bracket.plates[0].but(name=name, openings=(Hole(name=name, centre_mm=(40, 30), diameter_mm=9),))
    bolt = bracket.bolts[0].but(name=name, plate=name, hole=name)
    hostile = bracket.but(title=name * 2, plates=(plate,), bolts=(bolt,))
    job = report_job(hostile, file=f"{name}.bracket.json".replace("/", "_").replace("\n", " "))
    made = report_pdf(job)
    assert [f for page in pages_of(job) for f in faults(page) if "off the page" in f] == []
    (attached,) = PdfReader(io.BytesIO(made)).attachments.values()
    assert attached == [bracket_text(hostile).encode()]


def test_the_same_report_is_the_same_file_once_the_date_is_fixed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1700000000")
    field = field_of(example_bracket(), 0.1, 1.3)
    results = plain_results(example_bracket(), plates=(field,))
    first, second = (report_pdf(report_job(example_bracket(), results)) for _ in range(2))
    assert first == second
    assert b"D:20231114221320" in first
    assert "2023-11-14" in texts(first)[0]
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1700086400")
    assert "2023-11-15" in texts(report_pdf(report_job(example_bracket(), results)))[0]


def test_a_report_that_cannot_be_written_leaves_what_was_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "x.pdf"
    out.write_bytes(b"before")

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("app.files.named_file.replace_file", full)
    with pytest.raises(PaperError, match="No space left on device"):
        write_report(report_job(), out)
    assert out.read_bytes() == b"before"
    monkeypatch.undo()
    with pytest.raises(PaperError, match="cannot be written"):
        write_report(report_job(), tmp_path / "gone" / "x.pdf")


def test_a_written_report_gives_its_bracket_and_record_back(tmp_path: Path) -> None:
    bracket = locked_bracket()
    record = settled_record(bracket)
    content = part_text(record).encode()
    job = report_job(bracket, part=record_part(record, bracket), record_content=content)
    write_report(job, tmp_path / "x.pdf")
    carried = read_carried(tmp_path / "x.pdf")
    assert carried.reading.bracket == bracket
    assert carried.reading.findings == ()
    assert carried.record == content


@pytest.mark.parametrize(("rows", "goes_on"), [(3, True), (30, False)])
def test_a_page_with_a_few_rows_left_over_is_gone_on_with(rows: int, goes_on: bool) -> None:
    blocks = [Paragraph("x")] * rows + [NewPage(), Heading("Next", 1)]
    assert (len(laid_out(report_job(), blocks, width_mm)) == 1) is goes_on
