"""Whether this machine can paint with OpenGL: tried once, in a process of its own.

A machine without any OpenGL ends the process that asks for it, so it is never asked for here first.
"""

from __future__ import annotations

import subprocess
import sys
from functools import cache
from typing import Final

SECONDS: Final = 60.0
SENTENCE: Final = (
    "This machine has no OpenGL, so the mounted bracket is a still picture that takes longer to draw: "
    "install libegl1 and libgl1-mesa-dri, or a graphics driver, and start again."
)
PROGRAM: Final = (
    "from app.mounted.camera import Camera\n"
    "from app.mounted.canvas import Canvas\n"
    "from app.mounted.scene import Scene\n"
    "image = Canvas().paint(Scene(size_px=(32, 32)).frame(), 1.0)\n"
    "raise SystemExit(0 if image.min() > 200 else 3)\n"
)
"""Paints a picture of nothing: all of it must be the ground's colour."""


def arguments() -> list[str]:
    """Return the command line of the trial; exit code 0 means that OpenGL works."""
    return [sys.executable, "-c", PROGRAM]


@cache
def opengl_works() -> bool:
    """Return whether the trial came to its end; it is made once, and takes about two seconds."""
    try:
        answer = subprocess.run(arguments(), capture_output=True, timeout=SECONDS, check=False)
    except (OSError, subprocess.TimeoutExpired):
        return False
    return answer.returncode == 0
