"""What can be done with what is under the pointer, in words."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Protocol

from app.editing.bolting import add_bolted_hole, bolt_hole_to_boss
from app.editing.clips import Clip, PlateClip, copied, copied_plate
from app.editing.joined_plates import joined
from app.editing.loops import corners_of
from app.editing.moved_shapes import middle_of
from app.editing.openings import remove_plate
from app.editing.outline import (
    chamfer_corner,
    insert_corner,
    round_corner,
    round_inside_corners,
    sharp_inside_corners,
    straighten_edge,
)
from app.editing.repeats import mirror_opening, mirror_plate, repeat_round
from app.editing.sheet_places import casing_centre
from app.editing.welding import remove_weld, weld_edge, welded_along, with_sides
from app.window.door import Door, Edit
from app.window.flat.drags import removed, words_of
from app.window.flat.on_sheet import OnSheet
from app.window.flat.tools.corner_tools import plate_edit
from app.window.flat.under import edge_near
from app.window.selection import Pick
from geometry.finding_words import named_once
from geometry.flat_segments import Flat
from geometry.plate import Plate

_ON_BOSS_MM = 1.0


@dataclass(frozen=True)
class Choice:
    """One line of the menu."""

    words: str
    do: Callable[[], object]


class Chooser(Protocol):
    """What the view does for the menu."""

    @property
    def door(self) -> Door:
        """Return the one door for edits."""

    @property
    def on_sheet(self) -> OnSheet | None:
        """Return what lies on the sheet."""

    def attempt(self, words: str, edit: Edit) -> bool:
        """Make an edit as one step."""

    def copy(self) -> bool:
        """Copy what is selected."""

    def paste(self, at: Flat | None = None) -> bool:
        """Paste at a place."""

    @property
    def has_clip(self) -> bool:
        """Return whether there is something to paste."""

    def set_tool(self, name: str) -> None:
        """Take a tool in hand."""

    def open_first_number(self) -> bool:
        """Begin typing the first dimension of what is selected."""

    def turn_fold_over(self, name: str) -> None:
        """Let a fold go the other way."""

    def ask_count(self, label: str, done: Callable[[int], bool], typed: str = "") -> None:
        """Ask for a number of pieces."""

    def fit(self) -> None:
        """Show the whole."""


def choices(view: Chooser, pick: Pick | None, at: Flat) -> list[Choice]:
    """Return the menu of what lies at a place."""
    sheet = view.on_sheet
    if sheet is None:
        return [Choice("draw an outline", lambda: view.set_tool("outline"))]
    found = list(_own(view, sheet, pick, at))
    if pick is not None and pick.kind in ("corner", "edge", "opening", "fold"):
        found.append(Choice("type its measures", view.open_first_number))
    if pick is not None and pick.kind in ("corner", "opening", "fold", "bolt"):
        found += _remove(view, sheet.plate, pick)
    if view.has_clip:
        found.append(Choice("paste here", lambda: view.paste(at)))
    found.append(Choice("show the whole", view.fit))
    return found


def clip_of(plate: Plate, pick: Pick, door: Door) -> Clip | PlateClip | None:
    """Return a copy of what is selected; None for what cannot be copied."""
    if pick.kind == "plate":
        return copied_plate(door.bracket, plate.name)
    return copied(plate, [pick.name]) if pick.kind in ("opening", "fold") else None


def _own(view: Chooser, sheet: OnSheet, pick: Pick | None, at: Flat) -> Iterator[Choice]:
    """Yield what only this kind of thing can have done to it."""
    plate = sheet.plate
    match pick.kind if pick is not None else "plate":
        case "corner" if pick is not None:
            yield from _at_corner(view, plate, pick)
        case "edge" if pick is not None:
            yield from _at_edge(view, plate, pick, at)
        case "opening" if pick is not None:
            yield from _at_opening(view, sheet, pick)
        case "fold" if pick is not None:
            yield Choice("fold the other way", lambda: view.turn_fold_over(pick.name))
        case "boss" if pick is not None:
            yield _bolt_boss(view, sheet, pick.name)
        case "plate":
            yield from _on_plate(view, plate)


def _remove(view: Chooser, plate: Plate, pick: Pick) -> Iterator[Choice]:
    edit = removed(plate, pick)
    words = f"remove {words_of(pick)}"
    if edit is not None:
        yield Choice(words, lambda: view.attempt(words, edit))


def _at_corner(view: Chooser, plate: Plate, pick: Pick) -> Iterator[Choice]:
    name, loop, index = plate.name, pick.loop, pick.index
    corner = corners_of(plate, loop)[index]
    size = plate.thickness_mm
    what = words_of(pick)
    if corner.radius_mm == 0.0:
        yield Choice(
            f"round it, radius {size:g}",
            lambda: view.attempt(
                f"round {what}", plate_edit(name, lambda p: round_corner(p, index, size, loop))
            ),
        )
        yield Choice(
            f"cut it off by {size:g}",
            lambda: view.attempt(
                f"chamfer {what}", plate_edit(name, lambda p: chamfer_corner(p, index, size, loop))
            ),
        )
    else:
        yield Choice(
            "make it sharp",
            lambda: view.attempt(
                f"sharpen {what}", plate_edit(name, lambda p: round_corner(p, index, 0.0, loop))
            ),
        )
    if len(sharp_inside_corners(plate, loop)) > 1:
        yield Choice(
            "round all sharp inside corners",
            lambda: view.attempt(
                "round inside corners", plate_edit(name, lambda p: round_inside_corners(p, loop=loop))
            ),
        )


def _at_edge(view: Chooser, plate: Plate, pick: Pick, at: Flat) -> Iterator[Choice]:
    name, loop, index = plate.name, pick.loop, pick.index
    spot = edge_near(plate, at, 1e9)
    if spot is not None and (spot.loop, spot.index) == (loop, index):
        yield Choice(
            "put a corner here",
            lambda: view.attempt(
                f"add corner {index + 2}",
                plate_edit(name, lambda p: insert_corner(p, index, spot.at_mm, loop)),
            ),
        )
    if loop is None:
        yield from _weld(view, plate, index)
    if corners_of(plate, loop)[index].arc_via_mm is not None:
        yield Choice(
            "make it straight",
            lambda: view.attempt(
                f"straighten edge {index + 1}", plate_edit(name, lambda p: straighten_edge(p, index, loop))
            ),
        )
    else:
        yield Choice("bend it to an arc", lambda: view.set_tool("arc"))


def _weld(view: Chooser, plate: Plate, index: int) -> Iterator[Choice]:
    """Yield what can be welded along an edge, or done with the welds that are there."""
    name, bracket = plate.name, view.door.bracket
    there = welded_along(bracket, name, index)
    if not there and (len(bracket.plates) > 1 or bracket.dash_bar is not None or bracket.anchors):
        yield Choice(
            "weld it to what it stands on",
            lambda: view.attempt(f"weld edge {index + 1}", lambda b: weld_edge(b, name, index)),
        )
    for weld in there:
        yield from _welded(view, weld, one_sided=bracket.weld(weld).sides != "both")


def _welded(view: Chooser, weld: str, *, one_sided: bool) -> Iterator[Choice]:
    what = named_once(f"weld {weld}")
    if one_sided:
        yield Choice(
            f"lay {what} on both sides",
            lambda: view.attempt(f"{what} on both sides", lambda b: with_sides(b, weld, "both")),
        )
    else:
        yield Choice(
            f"lay {what} on the front alone",
            lambda: view.attempt(f"{what} on the front alone", lambda b: with_sides(b, weld, "front")),
        )
    yield Choice(f"remove {what}", lambda: view.attempt(f"remove {what}", lambda b: remove_weld(b, weld)))


def _at_opening(view: Chooser, sheet: OnSheet, pick: Pick) -> Iterator[Choice]:
    plate, hole = sheet.plate, pick.name
    name, what = plate.name, words_of(pick)
    middle = middle_of(plate.opening(hole))
    for boss in sheet.bosses:
        near = abs(boss.at_mm[0] - middle[0]) + abs(boss.at_mm[1] - middle[1]) < _ON_BOSS_MM
        if near and not boss.bolted and not any(ring.hole == hole for ring in sheet.rings):
            yield _bolt_to_boss(view, name, hole, boss.name)
    yield Choice("copy", view.copy)
    x, y = centre = casing_centre(plate)
    across, up = ((x, y), (x, y + 1.0)), ((x, y), (x + 1.0, y))
    if abs(middle[0] - x) > 1e-6:
        yield Choice(
            "repeat on the other side",
            lambda: view.attempt(f"mirror {what}", lambda b: mirror_opening(b, name, hole, across)),
        )
    if abs(middle[1] - y) > 1e-6:
        yield Choice(
            "repeat above or below the centre",
            lambda: view.attempt(f"mirror {what}", lambda b: mirror_opening(b, name, hole, up)),
        )
    if middle != centre:
        yield Choice(
            "repeat round the centre ...",
            lambda: view.ask_count(
                "how many, with this one",
                lambda n: view.attempt(f"repeat {what}", lambda b: repeat_round(b, name, hole, centre, n)),
            ),
        )
    yield Choice("repeat in a line ...", lambda: view.set_tool("repeat"))


def _bolt_boss(view: Chooser, sheet: OnSheet, boss_name: str) -> Choice:
    boss = next(b for b in sheet.bosses if b.name == boss_name)
    name = sheet.plate.name
    return Choice(
        "make a hole here and bolt it",
        lambda: view.attempt(
            f"bolt boss {boss_name}", lambda b: add_bolted_hole(b, name, boss.at_mm, boss_name)
        ),
    )


def _on_plate(view: Chooser, plate: Plate) -> Iterator[Choice]:
    name = plate.name
    x, y = casing_centre(plate)
    yield Choice("make a hole", lambda: view.set_tool("hole"))
    yield Choice("fold it", lambda: view.set_tool("fold"))
    yield Choice("saw it", lambda: view.set_tool("saw"))
    for other in view.door.bracket.plates:
        if other.name != name:
            yield _join(view, name, other.name)
    yield Choice(
        "mirror it left to right",
        lambda: view.attempt(f"mirror plate {name}", lambda b: mirror_plate(b, name, ((x, y), (x, y + 1.0)))),
    )
    yield Choice("copy the plate", view.copy)
    yield Choice(
        named_once(f"remove plate {name}"),
        lambda: view.attempt(f"remove plate {name}", lambda b: remove_plate(b, name)),
    )


def _bolt_to_boss(view: Chooser, plate: str, hole: str, boss: str) -> Choice:
    return Choice(
        f"bolt it to boss {boss}",
        lambda: view.attempt(f"bolt boss {boss}", lambda b: bolt_hole_to_boss(b, plate, hole, boss)),
    )


def _join(view: Chooser, plate: str, other: str) -> Choice:
    return Choice(
        f"join it with {other}",
        lambda: view.attempt(f"join {plate} and {other}", lambda b: joined(b, plate, other)),
    )
