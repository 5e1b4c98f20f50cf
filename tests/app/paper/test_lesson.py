"""The lesson on paper: two pages, and questions that never tell their answers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from app.lesson import motion_pictures
from app.lesson.steps import steps_of
from app.lesson.turned import turned_of
from app.mounted import labels, overlay
from app.mounted.drawing import overlaid
from app.mounted.frame import Image
from app.mounted.overlay import Item
from app.paper.job import PaperJob
from app.paper.lesson import handout_pages, question_pages
from app.paper.page import Page, Picture, Stroke, Words
from solver.results import OneBoltLost
from tests.app.lesson.made_results import made_results
from tests.app.lesson.samples import sample, two_straps


def measure(words: str, size_mm: float, bold: bool) -> float:
    return len(words) * size_mm * (0.62 if bold else 0.56)


@cache
def job() -> PaperJob:
    bracket = two_straps()
    results = made_results(bracket, verdict="fail", lost=(OneBoltLost("1", "slip, bolt 2", 1.2, ""),))
    return PaperJob(bracket, "straps.bracket.json", "2030-01-02", results=results)


def words(pages: tuple[Page, ...]) -> str:
    return " ".join(mark.words for page in pages for mark in page.marks if isinstance(mark, Words))


def test_the_hand_out_has_two_pages_with_its_pictures() -> None:
    pages = handout_pages(job(), measure)
    assert len(pages) == 2
    assert sum(isinstance(mark, Picture) for mark in pages[0].marks) == 2
    text = words(pages)
    assert "60.0 N.m times 2" in text
    assert "58.8 kg" in text
    assert "The casing turns about the shaft" in text
    assert "FAIL" in text
    assert "It is no approval" in text


def test_words_in_the_strip_are_printed_at_seven_points_and_no_balloon_lies_on_the_centre(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    laid: list[tuple[tuple[int, ...], list[Item], float]] = []

    def watched(image: Image, items: Sequence[Item], scale: float) -> Image:
        laid.append((image.shape, list(items), scale))
        return overlaid(image, items, scale)

    monkeypatch.setattr(motion_pictures, "overlaid", watched)
    pages = handout_pages(job(), measure)
    strip = [mark for mark in pages[0].marks if isinstance(mark, Picture)][-1]
    across_px = sum(shape[1] for shape, items, _ in laid if items)
    mm_per_px = strip.box[2] / across_px
    for _, items, scale in laid:
        told = [item for item in items if isinstance(item, overlay.Words)]
        assert all(item.size_px * scale * mm_per_px * 72.0 / 25.4 >= 7.0 for item in told)
        for centre in (item for item in told if item.words == "centre"):
            balloons = [
                item
                for item in items
                if isinstance(item, overlay.Disc) and item.half_height_px == labels.BALLOON_PX
            ]
            assert balloons
            cross = (centre.x_px - 19.0, centre.y_px - centre.size_px)
            assert all(np.hypot(b.x_px - cross[0], b.y_px - cross[1]) > labels.BALLOON_PX for b in balloons)
    assert sum(getattr(item, "words", "") == "centre" for _, items, _ in laid for item in items) == 3
    assert "Seen from the driver" in words(pages)
    assert "driven by" in words(pages)


def test_a_check_a_hair_above_its_limit_is_not_printed_as_on_it() -> None:
    results = job().results
    assert results is not None
    first = next(check for check in results.checks if check.kind != "rule")
    above = replace(first, demand=1.003, allowable=1.0, band=0.0)
    made = replace(job(), results=replace(results, checks=(above,)))
    text = words(handout_pages(made, measure))
    assert "100.3 %" in text
    assert "used, upper end of band" in text


def test_questions_tell_no_answer_and_the_answers_mark_each() -> None:
    steps = steps_of(job().bracket, job().results)
    asked, told = (question_pages(job(), measure, answers=answers) for answers in (False, True))
    assert not _filled(asked)
    assert len(_filled(told)) == len(steps)
    for step in steps:
        first = step.reveal.split(". ")[0][:40]
        assert first not in words(asked)
        assert first in words(told)
        for choice in step.choices:
            assert choice in words(asked)
    bold = [m.words for p in told for m in p.marks if isinstance(m, Words) and m.bold]
    for step in steps:
        assert any(text.endswith(step.choices[step.answer]) for text in bold)


@pytest.mark.parametrize("judged", [True, False])
def test_the_turned_plate_tells_its_own_figures_where_it_was_judged(judged: bool) -> None:
    bracket = sample("marlpit_one_piece")
    turned = turned_of(bracket)
    assert turned.bracket is not None
    then = made_results(turned.bracket)
    then = replace(then, cases=tuple(replace(case, turn_deg=0.0377) for case in then.cases))
    of = PaperJob(
        bracket,
        "one.bracket.json",
        "2030-01-02",
        results=made_results(bracket),
        turned=replace(turned, results=then if judged else None),
    )
    for pages in (handout_pages(of, measure), question_pages(of, measure, answers=True)):
        assert ("0.0377 deg along it" in words(pages)) is judged
        assert ("times stiffer is a strip of it" in words(pages)) is not judged
    asked = words(question_pages(of, measure, answers=False))
    assert ("The same plate along the shaft" in asked) is judged
    assert "0.0377" not in asked


def _filled(pages: tuple[Page, ...]) -> list[Stroke]:
    return [m for p in pages for m in p.marks if isinstance(m, Stroke) and m.closed and m.grey == 0.0]
