"""Papers as PDF files: the entrance the command line and the window share. Qt only behind `pdf`."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Final

from app.files.named_file import write_named
from app.paper.assembly import assembly_pages
from app.paper.drawing import drawing_pages
from app.paper.job import PaperJob
from app.paper.measuring import measuring_pages
from app.paper.page import Measure, Page
from app.paper.paper_names import SheetName
from app.paper.pdf import PaperError, pdf_bytes, ready, width_mm
from app.paper.proof import Lever, proof_pages
from app.paper.template import TemplateError, template_pages
from geometry.flat_segments import ShapeError
from solver.proof_readings import ProofError

_PAGES: Final[dict[SheetName, Callable[[PaperJob, Measure], tuple[Page, ...]]]] = {
    "measuring": measuring_pages,
    "template": template_pages,
    "drawing": drawing_pages,
    "assembly": assembly_pages,
}
_TITLES: Final[dict[SheetName, str]] = {
    "measuring": "Measuring sheet",
    "template": "Cutting template",
    "drawing": "Drawing",
    "assembly": "Assembly card",
    "proof": "Proof card",
}


def paper_pages(job: PaperJob, sheet: SheetName, lever: Lever | None = None) -> tuple[Page, ...]:
    """Return the pages of a sheet; PaperError, in one sentence, if it cannot be made."""
    ready()
    try:
        if sheet == "proof":
            return proof_pages(job, width_mm, lever or Lever())
        pages = _PAGES[sheet](job, width_mm)
    except (ShapeError, TemplateError, ProofError) as error:
        text = str(error).rstrip(".")
        raise PaperError(f"{_TITLES[sheet]}: {text}.") from error
    if not pages:
        raise PaperError(f"{_TITLES[sheet]}: there is no plate in {job.file}: draw one first.")
    return pages


def paper_bytes(job: PaperJob, sheet: SheetName, lever: Lever | None = None) -> bytes:
    """Return the PDF of a sheet; PaperError, in one sentence, if it cannot be made."""
    return pdf_bytes(paper_pages(job, sheet, lever), f"{_TITLES[sheet]}: {job.title}")


def write_paper(job: PaperJob, sheet: SheetName, path: Path, lever: Lever | None = None) -> None:
    """Write the PDF of a sheet; PaperError if it cannot be made or written, and then nothing is changed."""
    write_named(path, paper_bytes(job, sheet, lever), PaperError)
