"""A scene painted without any screen, and by whom."""

from __future__ import annotations

import threading
from typing import Final

from app.mounted.drawing import overlaid
from app.mounted.frame import Image, Painter
from app.mounted.probe import opengl_works
from app.mounted.scene import Scene


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
