"""Disks that do not do as they should: full, small, read only, gone; made with what the system itself has."""

from __future__ import annotations

import contextlib
import ctypes
import os
import resource
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Final

_CAPSET_VERSION: Final = 0x2008_0522
"""Of linux/capability.h: two words for each set."""
SMALL_KB: Final = 256


def be_nobody_special() -> None:
    """Give up root's leave to write where nobody may: else nothing is read only in this process.

    Linux alone; elsewhere, and for others than root, there is nothing to give up.
    """
    if os.name != "posix" or os.geteuid() != 0:
        return
    libc = ctypes.CDLL(None, use_errno=True)
    if not hasattr(libc, "capset"):
        return
    header = (ctypes.c_uint32 * 2)(_CAPSET_VERSION, 0)
    none = (ctypes.c_uint32 * 6)(*([0] * 6))
    if libc.capset(header, none) != 0:
        raise OSError(ctypes.get_errno(), os.strerror(ctypes.get_errno()))


@contextlib.contextmanager
def small_disk(folder: Path) -> Iterator[bool]:
    """Put a disk of a quarter of a megabyte on a folder; yield whether the system let that be."""
    folder.mkdir(exist_ok=True)
    asked = ["mount", "-t", "tmpfs", "-o", f"size={SMALL_KB}k,mode=777", "tmpfs", str(folder)]
    try:
        there = subprocess.run(asked, capture_output=True, check=False).returncode == 0
    except OSError:
        there = False
    try:
        yield there
    finally:
        if there:
            subprocess.run(["umount", "--lazy", str(folder)], capture_output=True, check=False)


def fill(folder: Path) -> Path:
    """Write on a disk until it takes nothing more; return what is to be removed to make room again."""
    ballast = folder / "ballast"
    with contextlib.suppress(OSError), ballast.open("wb", buffering=0) as stream:
        while True:
            stream.write(b"x" * 1024)
    return ballast


@contextlib.contextmanager
def no_file_above(most_bytes: int) -> Iterator[None]:
    """Let this process write no file larger than that, as a disk does that is nearly full."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (most_bytes, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
