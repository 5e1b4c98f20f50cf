"""The page of the record on paper: nothing lies over anything else."""

from __future__ import annotations

import pytest

from app.paper.page import Words
from app.paper.pdf import ready, width_mm
from app.paper.record_page import laid_page
from app.record.letter import PaperLine, PaperSection, PaperSheet

FOOT = "The hash shows that the same inputs were judged."


@pytest.mark.parametrize(
    "certifier",
    ["R. Inventley", "R. Inventley, the Marlpit test lane (invented), hall 4, the last door on the left"],
)
def test_what_is_signed_stands_above_the_foot_however_long_the_name(certifier: str) -> None:
    ready()
    sheet = PaperSheet(
        "Open items",
        ("a bracket",),
        (PaperSection("How it stands", (PaperLine("Not decided."),)),),
        (certifier, "date", "place of the car"),
        (FOOT,),
    )
    page = laid_page(sheet, width_mm)
    words = [mark for mark in page.marks if isinstance(mark, Words)]
    foot = next(mark for mark in words if mark.words.startswith(FOOT))
    signed = [mark for mark in words if mark.words and mark.words in certifier]
    assert " ".join(mark.words for mark in signed) == certifier
    # base lines: the foot's letters rise less than their size above theirs
    assert max(mark.at[1] for mark in signed) < foot.at[1] - foot.size_mm
    assert foot.at[1] < page.height_mm - 10.0
