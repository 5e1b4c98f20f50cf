"""PDFs from strangers: each gives a bracket or one sentence, within bounds of size, time and memory."""

from __future__ import annotations

import io
import zlib
from collections.abc import Callable
from pathlib import Path

import pytest
from pypdf import PdfWriter
from pypdf.generic import (
    ArrayObject,
    DecodedStreamObject,
    DictionaryObject,
    NameObject,
    StreamObject,
    TextStringObject,
)

from app.report import attached, pdf_files
from app.report.attached import read_any, read_carried
from app.report.pdf_files import PdfRefused, files_in
from app.report.report_file import report_pdf
from geometry.bracket_file import save_bracket
from geometry.file_writing import bracket_text
from tests.app.example_results import example_bracket
from tests.app.report.reports import report_job

TEXT = bracket_text(example_bracket()).encode()


def pdf_with(*files: tuple[str, bytes], password: str = "") -> bytes:
    """Return a PDF by another hand that carries files."""
    writer = PdfWriter()
    writer.add_blank_page(200, 200)
    for name, content in files:
        writer.add_attachment(name, content)
    if password:
        writer.encrypt(password)
    held = io.BytesIO()
    writer.write(held)
    return held.getvalue()


def pdf_naming(stream: StreamObject, name: str = "x.bracket.json") -> bytes:
    """Return a PDF whose one attached file is the stream as it stands."""
    writer = PdfWriter()
    writer.add_blank_page(200, 200)
    held = writer._add_object(stream)
    spec = DictionaryObject(
        {
            NameObject("/F"): TextStringObject(name),
            NameObject("/EF"): DictionaryObject({NameObject("/F"): held}),
        }
    )
    tree = DictionaryObject({NameObject("/Names"): ArrayObject([TextStringObject(name), spec])})
    writer.root_object[NameObject("/Names")] = DictionaryObject({NameObject("/EmbeddedFiles"): tree})
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


def deflated(content: bytes) -> StreamObject:
    stream = DecodedStreamObject()
    stream[NameObject("/Filter")] = NameObject("/FlateDecode")
    stream._data = zlib.compress(content)
    return stream


def unknown_filter() -> StreamObject:
    stream = DecodedStreamObject()
    stream[NameObject("/Filter")] = NameObject("/LZWDecode")
    stream._data = b"\x80\x0b\x60\x50"
    return stream


def circling() -> bytes:
    writer = PdfWriter()
    writer.add_blank_page(200, 200)
    node = DictionaryObject()
    held = writer._add_object(node)
    node[NameObject("/Kids")] = ArrayObject([held, held])
    writer.root_object[NameObject("/Names")] = DictionaryObject({NameObject("/EmbeddedFiles"): held})
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


def cut_short() -> bytes:
    whole = report_pdf(report_job())
    return whole[: len(whole) // 3]


@pytest.mark.parametrize(
    ("made", "code"),
    [
        (lambda: pdf_with(), "none"),
        (lambda: pdf_with(("x.bracket.json", TEXT), password="secret"), "locked"),
        (lambda: b"%PDF-1.4\nnothing of the kind", "damaged"),
        (lambda: b"", "damaged"),
        (lambda: b"%PDF-1.4\nstartxref\n-3499999999999999999999\n%%EOF", "damaged"),
        (cut_short, "damaged"),
        (circling, "damaged"),
        (lambda: pdf_naming(unknown_filter()), "damaged"),
    ],
)
def test_what_gives_nothing_says_why(made: Callable[[], bytes], code: str) -> None:
    with pytest.raises(PdfRefused, match=code):
        files_in(made())


def test_a_file_that_swells_is_not_unpacked_past_its_bound(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pdf_files, "MOST_BYTES_EACH", 100_000)
    with pytest.raises(PdfRefused, match="too big"):
        files_in(pdf_naming(deflated(b" " * 50_000_000)))
    assert files_in(pdf_naming(deflated(TEXT)))["x.bracket.json"] == TEXT


def in_this_process(content: bytes) -> dict[str, bytes] | str:
    """Stand in for the process, which takes a second to begin; the last test here begins a true one."""
    try:
        return files_in(content)
    except PdfRefused as refused:
        return str(refused)


@pytest.mark.parametrize(
    ("files", "sentence"),
    [
        ((), "carries no bracket"),
        ((("notes.txt", b"x"),), "carries no bracket"),
        ((("x.bracket.json", b"{"),), "breaks off"),
        ((("x.bracket.json", b'{"format": "something else"}'),), "something else"),
    ],
)
def test_a_foreign_pdf_is_one_sentence(
    tmp_path: Path, files: tuple[tuple[str, bytes], ...], sentence: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(attached, "_taken_apart", in_this_process)
    path = tmp_path / "x.pdf"
    path.write_bytes(pdf_with(*files))
    reading = read_any(path)
    assert reading.bracket is None
    assert len(reading.sentences) == 1
    assert sentence in reading.sentences[0]


@pytest.mark.parametrize(
    "name", ["../../../etc/passwd.bracket.json", "\u202ex.bracket.json", "a\nb.BRACKET.JSON"]
)
def test_a_hostile_name_is_only_a_name(tmp_path: Path, name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(attached, "_taken_apart", in_this_process)
    path = tmp_path / "inner" / "x.pdf"
    path.parent.mkdir()
    path.write_bytes(pdf_with((name, TEXT)))
    assert read_any(path).bracket == example_bracket()
    # nothing is unpacked to the disk
    assert [p.name for p in tmp_path.rglob("*")] == ["inner", "x.pdf"]


def test_one_that_takes_for_ever_is_given_up(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "x.pdf"
    path.write_bytes(pdf_with(("x.bracket.json", TEXT)))
    monkeypatch.setattr(attached, "PATIENCE_S", 0.0)
    assert "cannot be taken apart" in read_any(path).sentences[0]


def test_a_pdf_past_the_bound_is_not_even_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "x.pdf"
    path.write_bytes(pdf_with(("x.bracket.json", TEXT)))
    monkeypatch.setattr(attached, "MOST_BYTES", 100)
    monkeypatch.setattr(attached, "_taken_apart", lambda _: pytest.fail("it was read"))
    assert read_any(path).bracket is None


def test_a_report_is_known_by_how_it_begins_and_a_bracket_file_is_read_as_ever(tmp_path: Path) -> None:
    named_otherwise = tmp_path / "report"
    named_otherwise.write_bytes(pdf_with(("x.bracket.json", TEXT), ("x.record.json", b"{}")))
    carried = read_carried(named_otherwise)
    assert (carried.content, carried.record) == (TEXT, b"{}")
    own = tmp_path / "own.bracket.json"
    save_bracket(own, example_bracket())
    carried = read_carried(own)
    assert (carried.reading.bracket, carried.content, carried.record) == (
        example_bracket(),
        own.read_bytes(),
        None,
    )
    assert read_any(tmp_path / "gone.pdf").bracket is None


@pytest.mark.parametrize(
    "names",
    [
        ("a.bracket.json", "b.bracket.json"),
        ("a.bracket.json", "A.BRACKET.JSON"),
        ("a.bracket.json", "a.bracket.json"),
        ("a.bracket.json", "a.record.json", "b.record.json"),
    ],
)
def test_of_several_brackets_or_records_none_is_taken(tmp_path: Path, names: tuple[str, ...]) -> None:
    """A viewer may show one of them, and another one would be judged."""
    path = tmp_path / "theirs.pdf"
    path.write_bytes(pdf_with(*((name, TEXT) for name in names)))
    carried = read_carried(path)
    assert carried.reading.bracket is None
    assert carried.record is None
    assert [f.code for f in carried.reading.findings] == ["pdf-several"]
