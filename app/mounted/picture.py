"""A picture of the mounted bracket in a file, without any screen."""

from __future__ import annotations

import threading
from pathlib import Path
from typing import Final

from app.files.named_file import write_named
from app.mounted.drawing import overlaid, png_bytes
from app.mounted.frame import Image, Painter
from app.mounted.probe import opengl_works
from app.mounted.scene import Scene
from app.mounted.stands import Stand
from app.theme import Theme
from geometry.bracket import Bracket
from solver.results import Results


def painter() -> Painter:
    """Return the fast painter where OpenGL works, else the slow one; both draw the same."""
    if opengl_works():
        from app.mounted.canvas import Canvas

        return Canvas()
    from app.mounted.still import Still

    return Still()


class _Kept(threading.local):
    by: Painter | None = None


_KEPT: Final = _Kept()


def kept_painter() -> Painter:
    """Return the painter of the thread that asks, made once for it.

    What draws in OpenGL draws in the thread it was made in: asked from another it leaves the picture as it
    was, and the paper would show a bracket that is not the one it is about.
    """
    if _KEPT.by is None:
        _KEPT.by = painter()
    return _KEPT.by


def scene_image(scene: Scene, by: Painter, scale: float = 1.0) -> Image:
    """Return the scene painted, with what goes over it; `scale` image pixels for each of the camera's."""
    items = scene.items()
    return overlaid(by.paint(scene.frame(), scale), items, scale)


def render_png(
    bracket: Bracket,
    results: Results | None,
    size: tuple[int, int],
    theme: Theme,
    path: Path,
    *,
    view: Stand = "aslant",
    scale: float = 1.0,
    by: Painter | None = None,
) -> None:
    """Write a picture of the bracket, with stress and movement if results are its own.

    `size` is in pixels at 100 %; `scale` makes more of each. FilesError if the file cannot be written.
    """
    scene = Scene(theme, size)
    scene.show(bracket, results)
    scene.stand(view)
    image = scene_image(scene, painter() if by is None else by, scale)
    write_named(path, png_bytes(image))
