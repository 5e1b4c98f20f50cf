"""The report as HTML: one file, parsed by the language's own reader; nothing in it runs or is fetched."""

from __future__ import annotations

from html.parser import HTMLParser

import pytest

from app.report.report_file import report_html
from geometry.plate import Hole
from tests.app.example_results import example_bracket
from tests.app.record.examples import locked_bracket, settled_record
from tests.app.report.reports import field_of, plain_results, record_part, report_job

_VOID = {"meta", "polyline", "polygon", "image"}
HOSTILE = '<script>alert(1)</script>"><img src=x onerror=alert(1)>&amp;'


class Reader(HTMLParser):
    """Notes tags and words, and that every tag is closed by its own."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.words: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in _VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.words.append(data)


def read(content: bytes) -> Reader:
    reader = Reader()
    reader.feed(content.decode("utf-8"))
    reader.close()
    assert reader.open == []
    return reader


def test_it_is_one_whole_file_that_runs_and_fetches_nothing() -> None:
    field = field_of(example_bracket(), 0.1, 1.4)
    job = report_job(example_bracket(), plain_results(example_bracket(), plates=(field,)))
    reader = read(report_html(job))
    assert not {"script", "link", "iframe", "object", "embed", "a", "form"} & {tag for tag, _ in reader.tags}
    for _, attributes in reader.tags:
        assert not [name for name in attributes if name.startswith("on") or name in ("src", "action")]
        assert (attributes.get("href") or "data:").startswith("data:")
    words = " ".join(" ".join(reader.words).split())
    for said in ("PASS", "30 N.m (stated by the builder)", job.input_hash, "Every check", "Cautions"):
        assert said in words
    assert sum(tag == "svg" for tag, _ in reader.tags) == 4
    assert all(a.get("aria-label") for tag, a in reader.tags if tag == "svg")


@pytest.mark.parametrize("name", [HOSTILE, "\u202egnihtemos", "two\nlines", "x" * 80])
def test_what_strangers_wrote_is_words_and_nothing_else(name: str) -> None:
    bracket = locked_bracket()
    name = name[:80]
    plate = bracket.plates[0].but(name=name, openings=(Hole(name=name, centre_mm=(40, 30), diameter_mm=9),))
    hostile = bracket.but(
        title=name, plates=(plate,), bolts=(bracket.bolts[0].but(plate=name, hole=name, locking=name),)
    )
    record = settled_record(hostile).but(remarks=name, reason=name, certifier=name)
    job = report_job(hostile, part=record_part(record, hostile), file=f"{name}.bracket.json")
    content = report_html(job)
    reader = read(content)
    plain = {tag for tag, _ in read(report_html(report_job(bracket, part=job.record))).tags}
    assert {tag for tag, _ in reader.tags} <= plain
    assert "\u202e" not in content.decode()
    assert name.replace("\u202e", "").split("\n")[0] in " ".join(reader.words)


def test_the_same_report_is_the_same_file_once_the_date_is_fixed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1700000000")
    first, second = (report_html(report_job()) for _ in range(2))
    assert first == second
    assert b"2023-11-14" in first
