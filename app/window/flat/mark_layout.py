"""All marks of the sheet, laid out so that words stay apart: caption, folds, dimensions, flags, balloons."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainterPath

from app.window.flat.balloon_layout import Clear, place_balloons
from app.window.flat.dimension_layout import Measure, ToPx, lay_out
from app.window.flat.finding_places import place_on_sheet
from app.window.flat.fold_layout import fold_words_of
from app.window.flat.look import Look
from app.window.flat.marks import (
    FLAG_PX,
    Balloon,
    DimensionMark,
    Flag,
    Words,
    bigger,
    box_on_screen,
    line_box,
    text_size,
    words_at,
)
from app.window.flat.on_sheet import OnSheet
from app.window.flat.paths import bounds_of, plate_path
from app.window.flat.shown_dimensions import figure
from geometry.finding import Finding
from geometry.flat_segments import Flat

CAPTION_PX: Final = QPointF(18.0, 14.0)
SHARP_NAME: Final = "sharp "
_SHARP_SIDES: Final = (
    (QPointF(5.0, -5.0), (0.0, 1.0)),
    (QPointF(-5.0, -5.0), (1.0, 1.0)),
    (QPointF(5.0, 5.0), (0.0, 0.0)),
    (QPointF(-5.0, 5.0), (1.0, 0.0)),
)
"""Where the word stands by its corner: off by so much, with that part of its box."""
_LOOKS_OUT_PX: Final = 110.0
"""What reaches further out from under the plate is crossed by dimension lines after all."""


@dataclass(frozen=True)
class Marks:
    """Everything written beside the plate."""

    words: tuple[Words, ...] = ()
    dimensions: tuple[DimensionMark, ...] = ()
    flags: tuple[Flag, ...] = ()
    balloons: tuple[Balloon, ...] = ()


def marks_of(
    sheet: OnSheet,
    measures: Sequence[Measure],
    findings: Sequence[Finding],
    look: Look,
    *,
    with_plate: bool = True,
    balloons_before: Sequence[Balloon] = (),
) -> Marks:
    """Return the marks of a plate; without it those of what lies round it.

    `balloons_before` stay where they stand beside their holes, as they should while something is dragged.
    """
    if not with_plate:
        return Marks(words=tuple(_boss_words(sheet, look, ())))
    caption = _caption(sheet, look)
    if sheet.pattern is None:
        return Marks(words=caption, flags=_flags(sheet, findings, look, [w.box for w in caption]))
    box = _px_box(bounds_of(sheet.pattern.outline), look.to_px)
    dimensions = lay_out(measures, _clear_box(box, sheet, look), look.to_px, look.font)
    written = [words.box for words in caption] + [box_on_screen(mark.words) for mark in dimensions]
    folds = fold_words_of(sheet, look, written)
    written += [box_on_screen(words) for words in folds]
    flags = _flags(sheet, findings, look, written)
    written += [flag.box for flag in flags]
    rims = [_circle_box(ring.at_mm, ring.outer_mm, look) for ring in sheet.rings]
    rims += [line_box(line) for mark in dimensions for line in mark.lines]
    holes = [(r.bolt, look.to_px(r.at_mm), r.outer_mm * look.px_per_mm) for r in sheet.rings]
    edges = plate_path(sheet.pattern.outline, sheet.pattern.openings.values())
    clear = Clear(tuple(written), tuple(rims), look.transform.map(edges), look.size)
    balloons = place_balloons(holes, clear, look.font, {b.bolt: b.off for b in balloons_before})
    written += [balloon.box for balloon in balloons]
    bosses = _boss_words(sheet, look, written)
    sharp = _sharp_words(sheet, look, [*written, *(words.box for words in bosses)], clear.edges)
    written += [words.box for words in (*bosses, *sharp)]
    welds = _weld_words(sheet, look, written)
    return Marks((*caption, *folds, *bosses, *sharp, *welds), dimensions, flags, balloons)


def _weld_words(sheet: OnSheet, look: Look, written: Sequence[QRectF]) -> list[Words]:
    """Return each weld's size and name beside it: inside the plate at an edge, above it on a face."""
    found: list[Words] = []
    taken = list(written)
    for run in sheet.welds:
        a, b = (look.to_px(end) for end in run.ends)
        box = _px_box(bounds_of(sheet.pattern.outline), look.to_px) if sheet.pattern is not None else QRectF()
        words: Words | None = None
        for share in (0.5, 0.35, 0.65, 0.2, 0.8):
            at = a * (1.0 - share) + b * share
            down = at.y() <= box.center().y()
            off = QPointF(0.0, 7.0 if down else -7.0)
            said = run.inch_words if look.inch else run.words
            words = words_at(said, at + off, look.font, anchor=(0.5, 0.0 if down else 1.0), ink="ink")
            if not any(words.box.intersects(other) for other in taken):
                break
        if words is not None:
            found.append(words)
            taken.append(words.box)
    return found


def _caption(sheet: OnSheet, look: Look) -> tuple[Words, ...]:
    """Return the plate's name and, below, what it is made of; each can be clicked that can be changed."""
    plate = sheet.plate
    at = QPointF(CAPTION_PX)
    scale = f"   {_scale(look)}" if look.mm_per_screen_px else ""
    words = [
        words_at(f"{plate.name}, flat pattern", at, look.font, anchor=(0.0, 0.0), ink="ink", is_big=True)
    ]
    beside = QPointF(words[0].box.right(), words[0].box.bottom() - 2.0)
    words.append(
        words_at(f"{scale}   {'inches' if look.inch else 'mm'}".strip(), beside, look.font, anchor=(0.0, 1.0))
    )
    at = QPointF(at.x(), at.y() + text_size("X", bigger(look.font)).height() + 3.0)
    parts: list[tuple[str, str]] = [
        (plate.material or "material?", "material"),
        (f"{figure(plate.thickness_mm, inch=look.inch)} thick", "thickness"),
    ]
    if sheet.figures is not None:
        mass = sheet.figures.mass_kg
        if mass is not None:
            parts.append((f"{mass:.2f} kg" if not look.inch else f"{mass / 0.45359237:.2f} lb", ""))
        parts.append((f"cut length {_cut(sheet.figures.cut_length_mm, inch=look.inch)}", ""))
    for text, name in parts:
        blank = text == "material?"
        words.append(
            words_at(text, at, look.font, anchor=(0.0, 0.0), ink="bad" if blank else "pencil", name=name)
        )
        at = QPointF(words[-1].box.right() + 8.0, at.y())
    return tuple(words)


def _cut(length_mm: float, *, inch: bool) -> str:
    return f"{length_mm / 25.4:.1f}" if inch else f"{length_mm:.0f}"


def _scale(look: Look) -> str:
    """Return the scale as a drawing writes it, of the screen's own size."""
    ratio = 1.0 / (look.px_per_mm * look.mm_per_screen_px)
    return f"{1.0 / ratio:.2g} : 1" if ratio < 1.0 else f"1 : {ratio:.2g}"


def _flags(
    sheet: OnSheet, findings: Sequence[Finding], look: Look, written: Sequence[QRectF]
) -> tuple[Flag, ...]:
    flags: list[Flag] = []
    for number, finding in enumerate(findings, 1):
        at = place_on_sheet(finding, sheet)
        if at is not None:
            tip = look.to_px(at)
            taken = [*written, *(flag.box for flag in flags)]
            flags.append(Flag(number, finding, tip, _flag_box(tip, taken, look.size)))
    return tuple(flags)


def _flag_box(tip: QPointF, taken: Sequence[QRectF], sheet: QRectF) -> QRectF:
    """Return where a flag flies: right above its place, else ever further round it."""
    width, height = FLAG_PX
    boxes = [
        QRectF(tip.x() + dx, tip.y() + dy - height, width, height)
        for reach in (26.0, 44.0, 62.0, 80.0)
        for dx, dy in (
            (4.0, -reach),
            (-reach, -reach * 0.7),
            (reach * 0.8, -reach * 0.5),
            (reach * 0.6, reach + 8.0),
        )
    ]
    free = [box for box in boxes if sheet.contains(box) and not any(box.intersects(other) for other in taken)]
    return free[0] if free else boxes[0]


def _boss_words(sheet: OnSheet, look: Look, written: Sequence[QRectF]) -> list[Words]:
    """Return the names of bosses that nothing is bolted to yet."""
    words: list[Words] = []
    for boss in sheet.bosses:
        if not boss.bolted:
            at = look.to_px(boss.at_mm)
            reach = boss.face_diameter_mm / 2.0 * look.px_per_mm
            below = words_at(
                f"boss {boss.name}", QPointF(at.x(), at.y() + reach + 2.0), look.font, anchor=(0.5, 0.0)
            )
            above = words_at(
                f"boss {boss.name}", QPointF(at.x(), at.y() - reach - 2.0), look.font, anchor=(0.5, 1.0)
            )
            words.append(above if any(below.box.intersects(other) for other in written) else below)
    return words


def _sharp_words(sheet: OnSheet, look: Look, written: Sequence[QRectF], metal: QPainterPath) -> list[Words]:
    """Return a word at each sharp inside corner, on the metal; a click on it gives the corner its radius."""
    words: list[Words] = []
    for number, at in enumerate(sheet.sharp):
        px = look.to_px(at)
        tried = [
            words_at("sharp", px + off, look.font, anchor=anchor, ink="remark", name=f"{SHARP_NAME}{number}")
            for off, anchor in _SHARP_SIDES
        ]
        taken = [*written, *(one.box for one in words)]
        tried.sort(key=lambda one: not metal.contains(one.box.center()))
        free = [one for one in tried if not any(one.box.intersects(other) for other in taken)]
        words.append((free or tried)[0])
    return words


def _clear_box(plate: QRectF, sheet: OnSheet, look: Look) -> QRectF:
    """Return the box dimensions are set off from: the plate and what of the casing looks out beside it."""
    box = QRectF(plate)
    places = [look.to_px(at) for at in sheet.casing]
    for boss in sheet.bosses:
        circle = _circle_box(boss.at_mm, boss.face_diameter_mm / 2.0, look)
        below = 0.0 if boss.bolted else text_size("X", look.font).height()
        places += [circle.topLeft(), circle.bottomRight() + QPointF(0.0, below)]
    reach = plate.adjusted(-_LOOKS_OUT_PX, -_LOOKS_OUT_PX, _LOOKS_OUT_PX, _LOOKS_OUT_PX)
    for px in places:
        if reach.contains(px):
            box.setLeft(min(box.left(), px.x()))
            box.setRight(max(box.right(), px.x()))
            box.setTop(min(box.top(), px.y()))
            box.setBottom(max(box.bottom(), px.y()))
    return box


def _px_box(box_mm: QRectF, to_px: ToPx) -> QRectF:
    low, high = to_px((box_mm.left(), box_mm.top())), to_px((box_mm.right(), box_mm.bottom()))
    return QRectF(low, high).normalized()


def _circle_box(at: Flat, radius_mm: float, look: Look) -> QRectF:
    middle, reach = look.to_px(at), radius_mm * look.px_per_mm
    return QRectF(middle.x() - reach, middle.y() - reach, 2.0 * reach, 2.0 * reach)
