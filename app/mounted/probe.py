"""Whether this machine can paint with OpenGL: tried once, in a process of its own.

A machine without any OpenGL ends the process that asks for it, so it is never asked for here first.
"""

from __future__ import annotations

import contextlib
import multiprocessing
import os
from collections.abc import Callable
from functools import cache
from multiprocessing.process import BaseProcess
from typing import Final

SECONDS: Final = 60.0
SENTENCE: Final = (
    "This machine has no OpenGL, so the mounted bracket is a still picture that takes longer to draw: "
    "install libegl1 and libgl1-mesa-dri, or a graphics driver, and start again."
)
WORKS: Final = 0
BLANK: Final = 3


def paint_nothing() -> None:
    """Paint a picture of nothing and end the process: all of it must have the ground's colour."""
    with contextlib.suppress(OSError):
        # What a failing renderer says about itself is for nobody.
        silent = os.open(os.devnull, os.O_WRONLY)
        os.dup2(silent, 2)
    from app.mounted.canvas import Canvas
    from app.mounted.scene import Scene

    image = Canvas().paint(Scene(size_px=(32, 32)).frame(), 1.0)
    os._exit(WORKS if image.min() > 200 else BLANK)


def trial(target: Callable[[], None] = paint_nothing) -> BaseProcess | None:
    """Return the trial, begun; its exit code says `WORKS` or something else. None if it cannot be begun."""
    process = multiprocessing.get_context("spawn").Process(target=target, name="OpenGL trial", daemon=True)
    try:
        process.start()
    except OSError:
        return None
    return process


@cache
def opengl_works() -> bool:
    """Return whether the trial came to its end; it is made once, and takes about a second."""
    process = trial()
    if process is None:
        return False
    process.join(SECONDS)
    if process.is_alive():
        process.kill()
        process.join()
    return process.exitcode == WORKS
