"""Ctrl-C, or the end of the terminal or of the session: the work is kept aside, and the program ends."""

from __future__ import annotations

import os
import signal
from types import FrameType
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from app.window.main_window import MainWindow

_SIGNALLED: Final = 128
"""Exit codes are this and the signal's number: 130 for Ctrl-C, as of every command that a key stops."""


def obey_stop_key(window: MainWindow) -> None:
    """End the program at Ctrl-C, or when it is told to go, with the work kept; the next start gives it back.

    Python's own way raises KeyboardInterrupt in whatever the window calls next: it is printed and forgotten.
    """

    def stop(signal_number: int, _frame: FrameType | None) -> None:
        try:
            window.keeper.keep()
            window.record_holder.keep()
        finally:
            # The worker ends by itself when nobody holds the other end of its pipe.
            os._exit(_SIGNALLED + signal_number)

    for name in ("SIGINT", "SIGTERM", "SIGHUP"):  # Windows has no SIGHUP
        if (number := getattr(signal, name, None)) is not None:
            signal.signal(number, stop)
