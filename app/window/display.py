"""Whether a window can be shown here, looked at before Qt is asked: without a display Qt ends the program."""

from __future__ import annotations

import ctypes
import os
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Final

from app.system_libraries import missing_packages
from app.wording.program_name import program_name


def why_no_window(environment: Mapping[str, str] | None = None) -> str:
    """Return why no window can be shown, in one sentence with what to do; empty if one can."""
    given = os.environ if environment is None else environment
    if not sys.platform.startswith("linux") or given.get("QT_QPA_PLATFORM", "") in _NEED_NO_DISPLAY:
        return ""
    if _wayland_answers(given):
        return ""
    if not given.get("DISPLAY"):
        return (
            "There is no display here to show the window on: start it in a desktop session, or judge a file "
            f"without a window: {program_name()} check FILE"
        )
    missing = missing_packages()
    if missing:
        return f"The window lacks system libraries: sudo apt-get install {' '.join(missing)}"
    if not _x11_answers(given["DISPLAY"]):
        return (
            f"The display {given['DISPLAY']} does not answer: start it in a desktop session of your own, "
            f"or judge a file without a window: {program_name()} check FILE"
        )
    return ""


_NEED_NO_DISPLAY: Final = ("offscreen", "minimal", "vnc", "linuxfb", "eglfs")


def _wayland_answers(environment: Mapping[str, str]) -> bool:
    name, folder = environment.get("WAYLAND_DISPLAY"), environment.get("XDG_RUNTIME_DIR", "")
    return bool(name) and Path(folder, str(name)).is_socket()


def _x11_answers(display: str) -> bool:
    try:
        xcb = ctypes.CDLL("libxcb.so.1")
    except OSError:
        return False
    xcb.xcb_connect.restype = ctypes.c_void_p
    connection = ctypes.c_void_p(xcb.xcb_connect(display.encode(), None))
    answers = int(xcb.xcb_connection_has_error(connection)) == 0
    xcb.xcb_disconnect(connection)
    return answers
