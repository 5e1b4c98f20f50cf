"""Whether a plate's equations fit into the memory there is, asked before it is taken.

A system that runs out of memory does not refuse: it grows so slow that nothing can be done any more, or kills
a process, and not always the one at fault.
"""

from __future__ import annotations

import contextlib
import ctypes
import math
import os
import sys
from pathlib import Path
from typing import Final

from solver.errors import SolverError
from solver.freed_memory import give_memory_back

if sys.platform != "win32":
    import resource

PER_UNKNOWN: Final = 6000.0
"""Bytes of factor, scratch and mesh for each unknown. Measured on a folded plate with seven bolts, modes
included: 8.1 kB at 52 000 unknowns, 6.8 kB at 121 000, 7.2 kB at 235 000, 7.9 kB at 408 000."""
GROWS_FROM: Final = 400_000
"""Unknowns from which on a factor takes more for each, by their fourth root."""
PER_MODE: Final = 40.0
"""Bytes for each unknown and each mode: modes, drifts, and what they are worked out from."""
_CGROUPS: Final = (
    ("/sys/fs/cgroup/memory.max", "/sys/fs/cgroup/memory.current"),
    ("/sys/fs/cgroup/memory/memory.limit_in_bytes", "/sys/fs/cgroup/memory/memory.usage_in_bytes"),
)


def bytes_for(unknowns: int, bodies: int) -> float:
    """Return about how much memory it takes to condense a plate of that many unknowns to its bodies."""
    growth = math.pow(max(1.0, unknowns / GROWS_FROM), 0.25)
    return float(unknowns) * (PER_UNKNOWN * growth + PER_MODE * (6 * bodies + 3))


def free_bytes() -> float | None:
    """Return how much memory this process may still take; None where the system does not tell."""
    found = [room for room in (_of_machine(), _of_container(), _of_process()) if room is not None]
    return max(0.0, min(found)) if found else None


def refuse_too_fine(plate: str, bodies: int, unknowns: int) -> None:
    """Raise SolverError, with both figures, if that many unknowns need more memory than is free."""
    free, needed = free_bytes(), bytes_for(unknowns, bodies)
    if free is not None and needed > free:
        # What this process keeps of earlier analyses is not told as free.
        give_memory_back()
        free = free_bytes()
    if free is None or needed <= free:
        return
    raise SolverError(
        f"plate {plate}: its mesh would have about {_two_digits(unknowns)} unknowns and need about"
        f" {needed / 1e9:.2g} GB of memory, and {free / 1e9:.2g} GB are free: take small holes, radii and"
        " thin webs that carry nothing out of its flat pattern, or close other programs"
    )


def _two_digits(count: int) -> str:
    step = 10 ** max(0, len(str(count)) - 2)
    return f"{round(count / step) * step:,}".replace(",", " ")


def _of_machine() -> float | None:
    with contextlib.suppress(OSError, ValueError, StopIteration, IndexError):
        lines = Path("/proc/meminfo").read_text(encoding="ascii").splitlines()
        return 1024.0 * int(next(line for line in lines if line.startswith("MemAvailable")).split()[1])
    if sys.platform == "win32":
        state = (ctypes.c_uint64 * 8)(64)  # MEMORYSTATUSEX: its length and load share the first word
        told = ctypes.windll.kernel32.GlobalMemoryStatusEx(ctypes.byref(state))
        return float(state[2]) if told else None
    with contextlib.suppress(OSError, ValueError):
        return float(os.sysconf("SC_PHYS_PAGES") * os.sysconf("SC_PAGE_SIZE"))
    return None


def _of_container() -> float | None:
    for most, now in _CGROUPS:
        with contextlib.suppress(OSError, ValueError):  # ValueError: the word max
            return float(
                int(Path(most).read_text(encoding="ascii")) - int(Path(now).read_text(encoding="ascii"))
            )
    return None


def _of_process() -> float | None:
    if sys.platform == "win32":
        return None
    most, _ = resource.getrlimit(resource.RLIMIT_AS)
    if most == resource.RLIM_INFINITY:
        return None
    with contextlib.suppress(OSError, ValueError, IndexError):
        pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[0])
        return float(most - pages * os.sysconf("SC_PAGE_SIZE"))
    return float(most)
