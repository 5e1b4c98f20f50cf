"""The PDFs themselves, read by another library: text, fonts, pages, and what must never stand alone."""

from __future__ import annotations

import io

import pytest
from pypdf import PdfReader

from app.paper.page import PAPERS_MM
from app.paper.paper_file import paper_bytes
from app.paper.paper_names import PaperName, SheetName
from app.wording.figures import plain
from tests.app.paper.papers import NAMES, job_of
from tests.app.paper.test_every_page import SHEETS


def read(name: str, sheet: SheetName, paper: PaperName = "A4") -> PdfReader:
    return PdfReader(io.BytesIO(paper_bytes(job_of(name, paper), sheet)))


def text_of(reader: PdfReader) -> str:
    return " ".join(" ".join(page.extract_text().split()) for page in reader.pages)


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("paper", ["A4", "A3", "Letter"])
def test_text_fonts_and_paper(sheet: SheetName, paper: PaperName) -> None:
    reader = read("gauge_tray", sheet, paper)
    width, height = PAPERS_MM[paper]
    for page in reader.pages:
        box = sorted((float(page.mediabox.width), float(page.mediabox.height)))
        assert box == pytest.approx([width / 25.4 * 72, height / 25.4 * 72], abs=0.6)
        fonts = page["/Resources"]["/Font"]
        for font in fonts.values():
            descendant = font.get_object()["/DescendantFonts"][0].get_object()
            assert "/FontFile2" in descendant["/FontDescriptor"].get_object()
    text = text_of(reader)
    assert "Tray of thin sheet" in text
    assert job_of("gauge_tray").input_hash[:16] in text
    assert "2026-11-25" in text


@pytest.mark.parametrize("name", NAMES)
def test_every_bolt_hole_and_fold_is_on_the_drawing(name: str) -> None:
    text = text_of(read(name, "drawing"))
    bracket = job_of(name).bracket
    for plate in bracket.plates:
        assert all(o.name in text for o in plate.openings)
        assert all(f.name in text for f in plate.folds)
    for bolt in bracket.bolts:
        assert bolt.grade is None or bolt.grade in text
    assert "flat pattern, seen from the front" in text  # not with joined letters
    assert "Steering is safety-critical" in text
    assert "Do not weld steering shafts" in text


@pytest.mark.parametrize("sheet", ["drawing", "assembly", "proof"])
def test_a_verdict_never_stands_bare(sheet: SheetName) -> None:
    text = text_of(read("marlpit_one_piece", sheet))
    assert text.count("PASS") >= 1
    pieces = text.split("PASS")
    for before in pieces[:-1]:
        assert "Computed by Holdsquare" in before[-120:]
    for after in pieces[1:]:
        assert after.startswith(" for 30 N.m (stated by the builder); holds to 71.3 N.m")
    assert "It is no approval" in text


def test_measuring_sheet_shows_what_the_file_has_and_room_for_what_is_measured() -> None:
    text = text_of(read("marlpit_one_piece", "measuring"))
    bracket = job_of("marlpit_one_piece").bracket
    assert bracket.casing is not None
    for boss in bracket.casing.bosses:
        assert plain(boss.name) in text
    assert f"{bracket.rake_deg:g} deg" in text
    assert "z -220; 8000 to 25000 N/mm" in text
    assert "measured" in text
