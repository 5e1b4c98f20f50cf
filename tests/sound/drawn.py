"""Random brackets of every shape the model allows, each from a seed and a number.

One in ten is a careful builder's, as the band trial draws them; the others are one to three chains of one to
three plates side by side, each from bosses of the casing to anchors, the dash bar or a welded edge.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from geometry.bolt_tables import BOLT_SIZES
from geometry.bracket import Bracket
from geometry.flat_segments import ShapeError
from tests.sound.blanks import left_blank
from tests.sound.draft import Data, Draft, in_space, listed
from tests.sound.joints import opposite, to_anchors, to_bar, to_bosses, to_sheet, welded_end
from tests.sound.strips import (
    SHEETS_MM,
    Panel,
    Strip,
    disc,
    half_of,
    panel_for,
    row_across,
    strip,
    web_for,
)
from tests.sound.whole import casing_of, column_of, loads_of, rest_of
from tests.trial.random_brackets import random_bracket

MOST_PLATES: Final = 3
_SIZES: Final = [size for size in BOLT_SIZES if size.diameter_mm < 13.0]
_USUAL: Final = [size for size in _SIZES if size.name in ("M5", "M6", "M6", "M8", "5/16-18", "1/4-20")]


def sound_bracket(seed: int, number: int) -> tuple[Bracket, frozenset[str]]:
    """Return bracket `number` of a seed, and the tags of what is in it."""
    random = np.random.default_rng([seed, number, 7])
    while True:
        usual = random.random() < 0.9
        size = (_USUAL if usual else _SIZES)[int(random.integers(len(_USUAL if usual else _SIZES)))]
        stout = bool(random.random() < 0.5)
        draft = Draft(random, size, stout=stout, inches=size.system == "inch")
        draft.tag(f"bolts {size.name}", "inch" if draft.inches else "mm")
        try:
            data = _careful(draft, number) if number % 10 == 7 else _drawn(draft)
        except ShapeError:
            # What cannot be folded has no place for its partners; the reader's own tests have such shapes.
            continue
        if draft.chance(0.08):
            left_blank(draft, data)
        return Bracket.model_validate(data), frozenset(draft.tags)


def _careful(draft: Draft, number: int) -> Data:
    """A bracket of the band trial under loads and in surroundings of this one."""
    draft.tags.clear()
    data: Data = random_bracket(draft.random, number // 10).model_dump(mode="json")
    draft.tag(f"careful: {data['title']}")
    data |= {"loads": loads_of(draft), "column": column_of(draft)}
    rest_of(draft, data)
    return data


def _drawn(draft: Draft) -> Data:
    chains = int(draft.pick((1, 1, 1, 1, 1, 1, 2, 2, 3)))
    plates = int(draft.pick((1, 1, 1, 1, 1, 1, 2, 2, 3))) if chains == 1 else 1
    placement = _placement(draft)
    support = draft.pick(("anchors", "anchors", "bar", "bar", "weld"))
    if chains == 1:
        _chain(draft, [placement], plates, support)
    else:
        draft.tag("straps side by side")
        _straps(draft, placement, chains, support)
    draft.tag(f"{len(draft.sheets)} plates")
    data: Data = {
        "title": f"{', '.join(sorted(draft.tags))[:180]}",
        "plates": draft.sheets,
        "casing": casing_of(draft),
        "column": column_of(draft),
        "bolts": draft.bolts,
        "welds": draft.welds,
        "dash_bar": draft.bar,
        "anchors": draft.anchors,
        "loads": loads_of(draft),
    }
    rest_of(draft, data)
    return data


def _placement(draft: Draft) -> Data:
    """Return where the first plate stands: square to the shaft, beside it, above it, or askew."""
    frame = np.eye(3)
    stands = draft.pick(("square", "square", "beside", "above", "askew"))
    if stands == "beside":
        frame = np.array([[0.0, 0.0, 1.0], [0.0, 1.0, 0.0], [-1.0, 0.0, 0.0]])
    elif stands == "above":
        frame = np.array([[1.0, 0.0, 0.0], [0.0, 0.0, -1.0], [0.0, 1.0, 0.0]])
    elif stands == "askew":
        frame, _ = np.linalg.qr(draft.random.normal(size=(3, 3)))
    draft.tag(f"stands {stands}")
    away = [draft.number(-50, 50), draft.number(-60, 60), draft.number(-60, 60)]
    level = draft.pick(("back", "middle", "front"))
    return {
        "origin_mm": away,
        "x_axis": listed(frame[:, 0]),
        "y_axis": listed(frame[:, 1]),
        "origin_on": level,
    }


def _thickness(draft: Draft) -> float:
    thickness = float(draft.pick(SHEETS_MM[4:-2] if draft.chance(0.85) else SHEETS_MM))
    if draft.stout:
        thickness = float(draft.pick((4.0, 5.0, 6.0, 8.0)))
    return round(25.4 * float(draft.pick((0.125, 0.1875, 0.25))), 4) if draft.inches else thickness


def _panels(draft: Draft, first: list[list[float]], last: list[list[float]], thickness: float) -> list[Panel]:
    """Return the panels of a plate: both rows on one, or on the ends of up to five."""
    bends = int(draft.pick((0, 0, 1, 1, 2) if draft.stout else (0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 3, 4)))
    if bends == 0:
        return [panel_for(draft, [*first, *last], bends=0, thickness=thickness)]
    head = panel_for(draft, first, bends=1, thickness=thickness)
    tail = panel_for(draft, last, bends=1, thickness=thickness)
    webs = [web_for(draft, min(head.half, tail.half), thickness) for _ in range(bends - 1)]
    if draft.chance(0.6):
        width = max(head.half, tail.half)
        for panel in (head, *webs, tail):
            panel.half = width
    if draft.chance(0.08):
        # A lip that nothing is bolted to.
        draft.tag("lip")
        return [head, *webs, tail, Panel(draft.number(6.0, 20.0), tail.half)]
    return [head, *webs, tail]


def _chain(draft: Draft, placement: list[Data], plates: int, support: str) -> None:
    """Draw plates bolted one to the next, from the casing's bosses to what holds them."""
    side = draft.pick(("front", "back"))
    before: tuple[Strip, tuple[tuple[str, tuple[float, float]], ...], str] | None = None
    start = [row_across(draft, draft.pick((1, 2, 2, 2, 3))) for _ in range(draft.pick((1, 1, 1, 2)))]
    if len(start) == 1 and len(start[0]) == 1:
        start.append(row_across(draft, draft.count(1, 2)))
    for number in range(plates):
        thickness, final = _thickness(draft), number == plates - 1
        welded = final and support == "weld"
        few = (1, 1, 2, 2, 3) if final and not draft.stout else (2, 2, 2, 2, 3)
        end = [] if welded else [row_across(draft, draft.pick(few))]
        if plates == 1 and not welded and support == "anchors" and draft.chance(0.12):
            made = disc(draft, "plate 1", thickness, draft.count(2, 3))
        else:
            panels = _panels(draft, start, end, thickness)
            made = strip(draft, f"plate {number + 1}", panels, thickness)
        count = len(start) if len(made.rows) != 2 or end else 2
        if before is None:
            made.sheet["placement"] = placement[0]
            draft.sheets.append(made.sheet)
            to_bosses(draft, made, made.rows[: 1 if made.half_end == 0.0 else count], side)
        else:
            last, row, face = before
            to_sheet(draft, last, row, made, made.rows[0], face)
            draft.sheets.append(made.sheet)
        side = opposite(side) if draft.chance(0.7) else side
        if not final:
            before = (made, made.rows[-1], draft.pick(("front", "back")))
            start = [[x for _, (x, _) in made.rows[-1]]]
        else:
            _supported(draft, made, support, side)


def _supported(draft: Draft, made: Strip, support: str, side: str) -> None:
    if support == "weld":
        welded_end(draft, made)
    elif support == "bar":
        to_bar(draft, made, made.rows[-1], side)
    else:
        to_anchors(draft, made, made.rows[-1:], side)


def _straps(draft: Draft, placement: Data, count: int, support: str) -> None:
    """Draw straps of one drawing side by side."""
    thickness = _thickness(draft)
    start = [row_across(draft, draft.pick((1, 1, 2))) for _ in range(draft.pick((1, 1, 2)))]
    end = [] if support == "weld" else [row_across(draft, draft.count(1, 2))]
    panels = _panels(draft, start, end, thickness)
    made = strip(draft, "plate 1", panels, thickness)
    pitch = 2.0 * max(half_of(draft, [panel.half]) for panel in panels) + draft.number(2.0, 40.0)
    side = draft.pick(("front", "back"))
    other = opposite(side) if draft.chance(0.7) else side
    for number in range(count):
        axis = np.asarray(placement["x_axis"])
        origin = np.asarray(placement["origin_mm"]) + (number - (count - 1) / 2.0) * pitch * axis
        sheet = {**made.sheet, "name": f"plate {len(draft.sheets) + 1}"}
        sheet["placement"] = placement | {"origin_mm": listed(origin)}
        sheet["outline"] = [dict(corner) for corner in made.sheet["outline"]]
        one = Strip(sheet, made.rows, made.half_end, made.length)
        in_space(sheet, (0.0, 0.0))
        draft.sheets.append(sheet)
        to_bosses(draft, one, one.rows[: len(start)], side)
        _supported(draft, one, support, other)
