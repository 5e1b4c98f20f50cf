"""How a worker's process works: in a thread beside the one that listens, on memory it keeps for a while."""

from __future__ import annotations

import ctypes
import os
import sys
import threading
from collections.abc import Callable
from typing import Final

from solver.freed_memory import keep_freed_memory

STACK_BYTES: Final = 64 * 1024 * 1024
"""Some systems give a thread far less stack than the main one has, and meshing needs it."""
IDLE_S: Final = 20.0
"""After an analysis, before freed memory is handed back: who edits asks again within seconds, and with memory
fresh from the system the next analysis takes a fifth longer."""
_TURN_S: Final = 0.0005
"""How long one thread keeps the interpreter while the other waits. With the usual 5 ms a quick answer takes
160 to 220 ms while an analysis runs; with 0.1 ms both suffer."""


def ready_to_work() -> None:
    """Set this process up to work and listen at once; to be called before there are threads."""
    sys.setswitchinterval(_TURN_S)
    keep_freed_memory()


def step_back(niceness: int) -> None:
    """Lower this process's priority, on Windows by one class whatever is given."""
    if sys.platform == "win32":
        below_normal = 0x4000
        kernel = ctypes.windll.kernel32
        kernel.SetPriorityClass(kernel.GetCurrentProcess(), below_normal)
    else:
        os.nice(niceness)


def start_working(work: Callable[[], None], name: str) -> None:
    """Start work that never ends in a thread of its own."""
    threading.stack_size(STACK_BYTES)
    threading.Thread(target=work, name=name, daemon=True).start()
