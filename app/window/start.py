"""The start of the window: what must be there, what is opened first, and the way out."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Final

from app.exit_codes import BAD_USAGE
from app.window.display import why_no_window

_BREATH_MS: Final = 150
"""For the first drawing, before the worker begins to import beside it."""


def show_window(file: Path | None, complain: Callable[[str], None]) -> int:
    """Show the window, on a file if one is given, until it is closed; return the exit code.

    Where no window can be shown, one sentence is complained and the code is 64.
    """
    if trouble := why_no_window():
        complain(trouble)
        return BAD_USAGE
    from app.window.seeing import kept_settings

    settings = kept_settings()
    # Qt reads it once, before there is any window
    os.environ.setdefault("QT_SCALE_FACTOR", f"{settings.scale_percent / 100:g}")
    from PySide6.QtCore import QTimer

    from app.window.application import application
    from app.window.main_window import MainWindow
    from app.window.stop_key import obey_stop_key

    program = application(sys.argv[:1])
    window = MainWindow(settings)
    # what is first drawn is the bracket itself; whatever is slow to import or to ask comes after
    window.open_first(file)
    window.show()
    obey_stop_key(window)
    QTimer.singleShot(_BREATH_MS, window.begin)
    return program.exec()
