"""A motion as pictures: one after the other as a GIF, or side by side as a strip for paper. No display."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from app.lesson.bare_results import bare_results
from app.lesson.gif import gif_bytes
from app.lesson.linkage_drawing import linkage_drawing, linkage_items, linkage_places
from app.lesson.loosened import motions_of
from app.mounted.drawing import overlaid, png_bytes
from app.mounted.frame import Image, Painter
from app.mounted.labels import caption as caption_items
from app.mounted.picture import painter
from app.mounted.scene import Scene
from app.mounted.shapes import Floats
from app.mounted.stands import Stand
from app.theme import Theme
from geometry.bracket import Bracket
from solver.results import FreeMotion, Results

FRAMES: Final = 24
FRAME_MS: Final = 50
STRIP_PHASES: Final = (-1.0, -0.5, 0.0, 0.5, 1.0)
"""Of a quarter turn; 0 is at rest."""
FREE_SHARE: Final = 0.14
"""A free motion is drawn as large as this share of the bracket's size."""
_WORDS_PX: Final = 14.0
_GIF_PX: Final = (560, 420)
_STRIP_PX: Final = (300, 300)


class MotionError(ValueError):
    """A motion that is not there; the message says which there are."""


@dataclass(frozen=True)
class MotionAsked:
    """Which motion: a free one by its number from 1, or a load case by name; neither takes what there is."""

    free: int | None = None
    case: str | None = None


def motion_file(
    bracket: Bracket, results: Results | None, asked: MotionAsked, theme: Theme, ending: str
) -> bytes:
    """Return the motion as the content of a GIF for the ending `.gif`, else of a strip as PNG.

    MotionError if the motion is not there.
    """
    moves = ending.lower() == ".gif"
    scene, motion = motion_scene(bracket, results, asked, theme, _GIF_PX if moves else _STRIP_PX)
    return (motion_gif if moves else motion_strip)(scene, motion, painter())


def motion_scene(
    bracket: Bracket,
    results: Results | None,
    asked: MotionAsked,
    theme: Theme,
    size: tuple[int, int],
    stand: Stand = "from the driver",
) -> tuple[Scene, FreeMotion | None]:
    """Return a scene that shows the motion, and the free motion if it is one; MotionError if it is not there.

    Free motions need no results: they are worked out here.
    """
    scene = Scene(theme, size)
    scene.set_free_motion_share(FREE_SHARE)
    motions = motions_of(bracket)
    if asked.case is None and (motions or asked.free is not None):
        number = _number(motions, asked.free)
        scene.show(bracket, bare_results(bracket, motions))
        scene.show_free_motion(number)
        scene.stand(stand)
        return scene, motions[number]
    if results is None:
        raise MotionError("there is no free motion, and nothing was solved that bends: have it judged first")
    scene.show(bracket, results)
    if asked.case is not None:
        scene.show_case(_case_number(results, asked.case))
    elif scene.case is None:
        raise MotionError("nothing was solved that moves: have it judged first")
    scene.stand(stand)
    return scene, None


def motion_gif(scene: Scene, motion: FreeMotion | None, by: Painter) -> bytes:
    """Return one swing, there and back and the other way, as a GIF."""
    return gif_bytes(_painted(scene, motion, by, 2.0 * np.pi * np.arange(FRAMES) / FRAMES), FRAME_MS)


def motion_strip(scene: Scene, motion: FreeMotion | None, by: Painter) -> bytes:
    """Return the swing from one end to the other as a PNG of pictures side by side."""
    return png_bytes(strip_image(scene, motion, by))


def strip_image(
    scene: Scene,
    motion: FreeMotion | None,
    by: Painter,
    scale: float = 1.0,
    shares: Sequence[float] = STRIP_PHASES,
    *,
    caption: bool = True,
) -> Image:
    """Return the pictures of a strip side by side, (height, widths, 3); one for each share of a quarter turn.

    Without a caption nor the driver's rim is drawn: whoever prints it says what it shows, and from where.
    """
    phases = np.pi / 2.0 * np.array(shares)
    pictures = _painted(scene, motion, by, phases, scale, caption=False, driver=caption)
    row = np.ascontiguousarray(np.concatenate(pictures, axis=1))
    items = caption_items(scene.words(), scene.theme, italic=False) if caption else []
    return overlaid(row, items, scale)


def _painted(
    scene: Scene,
    motion: FreeMotion | None,
    by: Painter,
    phases: Floats,
    scale: float = 1.0,
    *,
    caption: bool = True,
    driver: bool = True,
) -> list[Image]:
    drawing = None if motion is None else linkage_drawing(scene.bracket, motion)
    found = []
    for phase in phases:
        scene.set_phase(float(phase))
        drawn = None if drawing is None else linkage_places(drawing, scene.camera, scene.moved, _WORDS_PX)
        items = scene.items(caption=caption, driver=driver, clear_of=drawn)
        if drawing is not None:
            items += linkage_items(drawing, scene.camera, scene.theme, scene.moved, _WORDS_PX)
        found.append(overlaid(by.paint(scene.frame(), scale), items, scale))
    return found


def _number(motions: Sequence[FreeMotion], free: int | None) -> int:
    if free is None:
        return next((number for number, motion in enumerate(motions) if motion.moves_casing), 0)
    if not 1 <= free <= len(motions):
        there = f"they are 1 to {len(motions)}" if motions else "it has none, its plates lock one another"
        raise MotionError(f"there is no free motion {free} in this bracket: {there}")
    return free - 1


def _case_number(results: Results, name: str) -> int:
    """Return the case of that name, the one with bolts stuck before the others."""
    found = [i for i, case in enumerate(results.cases) if case.name == name]
    if not found:
        known = "; ".join(dict.fromkeys(case.name for case in results.cases)) or "none"
        raise MotionError(f"there is no load case {name!r}: there is {known}")
    return min(found, key=lambda i: results.cases[i].state != "stuck")
