"""A report's blocks laid out on pages, with hash, version and page on each. No Qt."""

from __future__ import annotations

from collections.abc import Sequence

from app.paper.flow import Flow, Room
from app.paper.job import HASH_SHOWN
from app.paper.page import BODY_MM, SMALL_MM, Mark, Measure, Page, Words, line, paper_mm
from app.report.blocks import Block, Bullets, Drawn, Heading, NewPage, Paragraph, Tabled
from app.report.job import ReportJob
from solver.version import VERSION

_MARGIN_MM = 12.0
_HEAD_MM = 9.0
_FOOT_MM = 9.0
_NEARLY_EMPTY = 0.4
"""A page with less than this share of it filled, such as the last rows of a table, is gone on with."""


def room_of(job: ReportJob) -> Room:
    """Return the pages' room."""
    width, height = paper_mm(job.paper)
    return Room(
        width, height, _MARGIN_MM, _MARGIN_MM + _HEAD_MM, width - _MARGIN_MM, height - _MARGIN_MM - _FOOT_MM
    )


def laid_out(job: ReportJob, blocks: Sequence[Block], measure: Measure) -> tuple[Page, ...]:
    """Return the pages."""
    flow = Flow(room_of(job), measure)
    for block in blocks:
        _lay(flow, block)
    return flow.pages(lambda page, of: _dressed(job, page, of))


def _lay(flow: Flow, block: Block) -> None:
    match block:
        case Heading(words, 1):
            flow.gap(2.0)
            flow.heading(words, keep_mm=24.0, size_mm=BODY_MM * 1.5)
        case Heading(words):
            flow.heading(words)
        case Paragraph(words, weight):
            size = SMALL_MM if weight == "small" else BODY_MM
            flow.paragraph(words, size_mm=size, bold=weight == "bold")
        case Bullets(sentences, mark):
            flow.bullets(sentences, mark=mark)
        case Tabled(table):
            flow.table(table)
        case Drawn(figure):
            flow.figure(figure)
        case NewPage():
            if flow.used_share > _NEARLY_EMPTY:
                flow.turn()


def _dressed(job: ReportJob, page: int, pages: int) -> tuple[Mark, ...]:
    room = room_of(job)
    left, right, top, foot = room.left_mm, room.right_mm, _MARGIN_MM + 2.0, room.height_mm - _MARGIN_MM
    title = job.title if len(job.title) <= 60 else job.title[:59] + "\u2026"
    file = job.file if len(job.file) <= 46 else job.file[:45] + "\u2026"
    said = f"{file}  \u00b7  Holdsquare {VERSION}  \u00b7  input hash {job.input_hash[:HASH_SHOWN]}"
    return (
        Words("Report", (left, top), 4.2, bold=True),
        Words(title, (right, top), 3.2, "right"),
        line((left, top + 2.0), (right, top + 2.0), kind="medium"),
        line((left, foot - 4.0), (right, foot - 4.0), kind="hair"),
        Words(f"{said}  \u00b7  {job.date}", (left, foot), SMALL_MM),
        Words(f"page {page} of {pages}", (right, foot), SMALL_MM, "right"),
    )
