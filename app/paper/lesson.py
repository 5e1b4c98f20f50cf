"""The lesson on paper: a hand-out of two pages, and a question sheet. Made from the open bracket. No Qt."""

from __future__ import annotations

from typing import Final

from app.cautions import CAUTIONS
from app.lesson.figures import figures_of
from app.lesson.linkage_drawing import linkage_drawing
from app.lesson.loosened import casing_motion, motions_of
from app.lesson.motion_pictures import MotionAsked, MotionError, motion_scene, strip_image
from app.lesson.step import Step
from app.lesson.steps import steps_of
from app.mounted.drawing import png_bytes
from app.mounted.picture import kept_painter
from app.paper.job import PaperJob, computed_words, dressed, portrait
from app.paper.mounted import FINER, ON_WHITE, PX_PER_MM, mounted_picture
from app.paper.page import SMALL_MM, Figure, Mark, Measure, Page, Picture, Words, box
from app.paper.tables import Column, Table
from app.wording.figures import Units, percent, plain, sentence_in_units

_STRIP_SHARES: Final = (-1.0, 0.0, 1.0)
"""Both ends of the swing and rest: of five pictures in the width of a page nobody could read the words."""
_STRIP_MM: Final = (182.0, 56.0)
_LETTERS: Final = "abcd"
_MOST_CHECKS: Final = 6


def handout_pages(job: PaperJob, measure: Measure) -> tuple[Page, ...]:
    """Return the hand-out, two pages: the couple in forces and the linkage; then what it teaches."""
    flow = portrait(job, measure)
    flow.heading("What the bracket has to hold")
    flow.paragraph(
        "The motor turns the output shaft, so the casing is pushed round the other way, equally hard, one way"
        " and then the other every time the wheel is worked."
    )
    couple = job.bracket.loads.couple.value_nm
    if couple is not None:
        flow.bullets(figures_of(job.bracket, couple).lines())
    across = min(flow.room.across_mm, 176.0)
    flow.figure(Figure(across, 104.0, (mounted_picture(job.bracket, (0.0, 0.0, across, 104.0)),)))
    flow.heading("What can move once bolts lose their grip")
    moving = casing_motion(motions_of(job.bracket))
    flow.paragraph(
        "Nothing: with every bolt a mere pin, plates and casing still lock one another."
        if moving is None
        else f"{plain(moving.words[:1].upper() + moving.words[1:])}. {_drawn_words(job)}"
    )
    strip = _strip(job)
    if strip is not None:
        figure, shows = strip
        flow.figure(figure)
        flow.paragraph(
            "Seen from the driver, from one end of the swing to the other; the middle one is at rest;"
            f" {shows}.",
            size_mm=SMALL_MM,
        )
    flow.turn()
    flow.heading("What this bracket shows")
    for step in _steps(job):
        flow.paragraph(step.question, bold=True)
        flow.paragraph(step.told, size_mm=SMALL_MM)
    if job.results is not None and job.results.checks:
        flow.heading("Its worst checks")
        flow.table(_checks(job))
    flow.paragraph(computed_words(job), size_mm=SMALL_MM)
    flow.paragraph(f"{CAUTIONS[0]} {CAUTIONS[3]}", size_mm=SMALL_MM, bold=True)
    return flow.pages(lambda page, pages: dressed(job, "Hand-out", page, pages))


def question_pages(job: PaperJob, measure: Measure, *, answers: bool) -> tuple[Page, ...]:
    """Return the question sheet; with answers each right choice is marked and told why."""
    flow = portrait(job, measure)
    across = min(flow.room.across_mm, 130.0)
    flow.figure(Figure(across, 66.0, (mounted_picture(job.bracket, (0.0, 0.0, across, 66.0)),)))
    if not answers:
        flow.paragraph("Name: ______________________________    Date: ________________")
    for number, step in enumerate(_steps(job), start=1):
        flow.heading(f"{number}  {step.question}", keep_mm=8.0 + 6.5 * len(step.choices))
        flow.figure(_boxes(step, flow.room.across_mm, job.units, answers=answers))
        if answers:
            flow.paragraph(step.told, indent_mm=7.0, italic=True)
        else:
            flow.paragraph("Because: ______________________________________________________", indent_mm=7.0)
    if answers:
        flow.paragraph(computed_words(job), size_mm=SMALL_MM)
    title = "Questions, with answers" if answers else "Questions"
    return flow.pages(lambda page, pages: dressed(job, title, page, pages))


def _steps(job: PaperJob) -> tuple[Step, ...]:
    """Return the steps; what the turned plate does only where it was judged, else what a strip would."""
    judged = job.turned is not None and job.turned.results is not None
    return steps_of(job.bracket, job.results, job.turned if judged else None)


def _boxes(step: Step, across_mm: float, units: Units, *, answers: bool) -> Figure:
    """Return the choices, each with a box to tick; the right one's is filled where answers are wanted."""
    marks: list[Mark] = []
    for k, words in enumerate(step.choices):
        top = 6.0 * k
        right = answers and k == step.answer
        marks.append(box(7.0, top + 0.4, 3.6, 3.6, grey=0.0 if right else 1.0))
        marks.append(
            Words(f"{_LETTERS[k]}   {sentence_in_units(words, units)}", (13.0, top + 3.4), bold=right)
        )
    return Figure(across_mm, 6.0 * len(step.choices), tuple(marks))


def _drawn_words(job: PaperJob) -> str:
    moving = casing_motion(motions_of(job.bracket))
    words = linkage_drawing(job.bracket, moving).words
    return f"Drawn as bars and pins: {words}."


def _strip(job: PaperJob) -> tuple[Figure, str] | None:
    """Return the motion as a strip, and in words what it shows; None where nothing is known to move."""
    width, height = _STRIP_MM
    size_px = round(width * PX_PER_MM / len(_STRIP_SHARES)), round(height * PX_PER_MM)
    try:
        scene, motion = motion_scene(job.bracket, job.results, MotionAsked(), ON_WHITE, size_px)
    except MotionError:
        return None
    image = strip_image(scene, motion, kept_painter(), FINER, _STRIP_SHARES, caption=False)
    # what moves is told above the picture already
    told = scene.words().splitlines()[0 if motion is None else -1 :]
    figure = Figure(width, height, (Picture(png_bytes(image), (0.0, 0.0, width, height)),))
    return figure, plain("; ".join(told))


def _checks(job: PaperJob) -> Table:
    checks = () if job.results is None else job.results.checks
    worst = sorted((c for c in checks if c.kind != "rule"), key=lambda c: -c.used_upper)[:_MOST_CHECKS]
    rows = tuple((plain(c.name), percent(c.used_upper), plain(c.where)) for c in worst)
    used = Column("used, upper end of band", 26.0, right=True)
    return Table((Column("check", 66.0), used, Column("where", 76.0)), rows)
