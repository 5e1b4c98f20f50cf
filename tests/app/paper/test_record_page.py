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


def test_a_page_leaves_lines_out_only_where_there_is_no_room_for_them() -> None:
    """The last page that holds all is full: what stands last ends close above what is signed."""
    ready()

    def laid(count: int) -> tuple[bool, float, float]:
        lines = tuple(PaperLine(f"line {n}", blank="mm") for n in range(count))
        last = PaperSection("proof", (PaperLine("mass hung", blank="kg"),))
        sheet = PaperSheet("At the car", ("a",), (PaperSection("measured", lines), last), ("date",), (FOOT,))
        words = [mark for mark in laid_page(sheet, width_mm).marks if isinstance(mark, Words)]
        hung = [mark for mark in words if mark.words == "mass hung"]
        assert any("do not fit" in mark.words for mark in words) == (not hung)
        signed = next(mark for mark in words if mark.words == "date")
        return bool(hung), signed.at[1] - (hung[0].at[1] if hung else 0.0), signed.size_mm

    found = [laid(count) for count in range(40, 240, 2)]
    whole = [one for one in found if one[0]]
    assert 0 < len(whole) < len(found)
    assert all(one[0] for one in found[: len(whole)])
    _, gap_mm, size_mm = whole[-1]
    assert gap_mm < 6.0 * size_mm
