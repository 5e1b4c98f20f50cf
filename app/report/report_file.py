"""A report written as PDF or HTML: the entrance that command line and window share. Qt only behind `pdf`."""

from __future__ import annotations

from pathlib import Path

from app.files.named_file import write_named
from app.paper.pdf import PaperError, pdf_bytes, ready, width_mm
from app.report.as_html import html_of
from app.report.as_pages import laid_out, room_of
from app.report.back import back_blocks
from app.report.blocks import Block
from app.report.front import front_blocks
from app.report.job import ReportJob


def report_blocks(job: ReportJob) -> tuple[Block, ...]:
    """Return the whole report; `PaperError` if there is no font to measure words with."""
    ready()
    return (*front_blocks(job, room_of(job).across_mm, width_mm), *back_blocks(job))


def report_pdf(job: ReportJob) -> bytes:
    """Return the report as PDF, bracket file and record attached; PaperError if it cannot be painted."""
    pages = laid_out(job, report_blocks(job), width_mm)
    return pdf_bytes(pages, f"Report: {job.title}", job.attached)


def report_html(job: ReportJob) -> bytes:
    """Return the report as one HTML file; PaperError if there is no font to measure words with."""
    return html_of(job, report_blocks(job)).encode("utf-8")


def write_report(job: ReportJob, path: Path) -> None:
    """Write the report, as HTML where the name ends so, else as PDF.

    PaperError if it cannot be made or written, and then nothing is changed.
    """
    content = report_html(job) if path.suffix.lower() in (".html", ".htm") else report_pdf(job)
    write_named(path, content, PaperError)
