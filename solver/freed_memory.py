"""What the C library does with memory that has been freed: kept for the next need, or handed back.

Both do nothing where the library is another than that of GNU.
"""

from __future__ import annotations

import contextlib
import ctypes
from typing import Final

_TRIM_ABOVE, _OF_THEIR_OWN_ABOVE, _AREAS = -1, -3, -8
"""M_TRIM_THRESHOLD, M_MMAP_THRESHOLD and M_ARENA_MAX of malloc.h."""
_MOST: Final = 2**31 - 1


def keep_freed_memory() -> None:
    """Keep what is freed: an analysis asks for the same hundreds of MB again and again.

    Fresh from the system each 4 kB cost a fault. To be called before there are threads.
    """
    with contextlib.suppress(OSError, AttributeError, TypeError):
        option = ctypes.CDLL(None).mallopt
        for number, value in ((_TRIM_ABOVE, _MOST), (_OF_THEIR_OWN_ABOVE, _MOST), (_AREAS, 1)):
            option(number, value)


def give_memory_back() -> None:
    """Hand freed memory back to the system, where the C library has to be asked for that."""
    with contextlib.suppress(OSError, AttributeError, TypeError):
        ctypes.CDLL(None).malloc_trim(0)
