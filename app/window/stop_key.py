"""Ctrl-C at the terminal the window was started from: the work is kept aside, and the program ends."""

from __future__ import annotations

import os
import signal
from types import FrameType
from typing import TYPE_CHECKING

from app.exit_codes import STOPPED

if TYPE_CHECKING:
    from app.window.main_window import MainWindow


def obey_stop_key(window: MainWindow) -> None:
    """End the program at Ctrl-C as a crash would, but with the work kept; the next start gives it back.

    Python's own way raises KeyboardInterrupt in whatever the window calls next: it is printed and forgotten.
    """

    def stop(_signal: int, _frame: FrameType | None) -> None:
        try:
            window.keeper.keep()
            window.record_holder.keep()
        finally:
            # The worker ends by itself when nobody holds the other end of its pipe.
            os._exit(STOPPED)

    signal.signal(signal.SIGINT, stop)
