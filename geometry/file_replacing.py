"""How any file is written: aside, flushed to the disk, and put in place in one step.

What a killed process leaves is a file aside, never half a file in place. While it is written it is locked by
the system, so that whoever writes or opens there later can tell one that nobody writes any more, and removes
it.
"""

from __future__ import annotations

import contextlib
import errno
import os
import shutil
import stat
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO, Final

if sys.platform != "win32":
    import fcntl

ASIDE: Final = ".holdsquare"
"""Ending of a file that is being written, so that no other program's is ever taken for one."""
_LONGEST_NAME: Final = 255
"""Bytes in a name, at most, on every usual file system."""
_TRIES: Final = 20
_A_DAY_S: Final = 86_400.0
"""Where nothing is locked, a file aside is left alone for so long."""


def replace_file(target: Path, content: bytes, *, keep_previous: bool = True) -> None:
    """Put the content in place of a file in one step, flushed, the file that stood there kept beside it.

    A link stays a link to the file that is replaced. Raises OSError, and then what stood there before is
    untouched: also for a folder, a device, and a file that may only be read.
    """
    target = _followed(target)
    stands = _replaceable(target)
    sweep(target.parent)
    with _aside(target) as (aside, stream):
        stream.write(content)
        _flushed(stream)
        # some network drives let no rights be set: no reason not to save
        with contextlib.suppress(OSError):
            aside.chmod(stat.S_IMODE(target.stat().st_mode) if stands else 0o666 & ~_mask())
        if stands and keep_previous:
            _keep_previous(target)
        _put(aside, stream, target)
    _flush_folder(target.parent)


def previous_of(path: Path | str) -> Path:
    """Return where the version before the last save is kept: the same name with ~ at the end.

    A name too long for one sign more gives up what stands at its end.
    """
    path = Path(path)
    return path.with_name(f"{_shortened(path.name, _LONGEST_NAME - 1)}~")


def sweep(folder: Path) -> None:
    """Remove what killed processes were writing in a folder, not what is being written. Never raises."""
    with contextlib.suppress(OSError, ValueError):
        for path in folder.iterdir():
            if path.name.startswith(".") and path.name.endswith(ASIDE):
                with contextlib.suppress(OSError):
                    _remove_if_left(path)


def _followed(target: Path) -> Path:
    try:
        return target.resolve() if target.is_symlink() else target
    except RuntimeError as error:
        raise OSError(errno.ELOOP, os.strerror(errno.ELOOP), str(target)) from error


def _replaceable(target: Path) -> bool:
    """Return whether a file stands there; OSError if what stands there is not to be replaced."""
    try:
        mode = target.stat().st_mode
    except FileNotFoundError:
        return False
    if stat.S_ISDIR(mode):
        raise OSError("it is a folder")
    if not stat.S_ISREG(mode):
        raise OSError("it is a device or a pipe, not a file")
    if not os.access(target, os.W_OK):
        # the folder may allow to replace it all the same, but whoever protected it did not mean that
        raise OSError("the file may only be read")
    return True


@contextlib.contextmanager
def _aside(target: Path) -> Iterator[tuple[Path, BinaryIO]]:
    """Yield a file aside, open and locked; it is gone if it cannot be put in place."""
    aside, stream = _begun(target)
    try:
        yield aside, stream
    except BaseException:
        with contextlib.suppress(OSError):
            stream.close()  # what is still to be written may have no room
        with contextlib.suppress(OSError):
            aside.unlink(missing_ok=True)
        raise


def _begun(target: Path) -> tuple[Path, BinaryIO]:
    prefix = f".{_shortened(target.name, 80)}."
    for _ in range(_TRIES):
        handle, name = tempfile.mkstemp(prefix=prefix, suffix=ASIDE, dir=target.parent)
        if _locked(handle):
            try:
                return Path(name), os.fdopen(handle, "wb")
            except BaseException:
                os.close(handle)
                Path(name).unlink(missing_ok=True)
                raise
        os.close(handle)  # somebody who swept took it for one that was left
    raise OSError(errno.EBUSY, os.strerror(errno.EBUSY), str(target))


def _locked(handle: int) -> bool:
    """Lock an open file and return whether it is still there."""
    if sys.platform == "win32":
        return True
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except OSError:  # a drive without locks: there nobody can sweep either
        return True
    return os.fstat(handle).st_nlink > 0


def _remove_if_left(aside: Path) -> None:
    if sys.platform == "win32":
        if abs(time.time() - aside.stat().st_mtime) > _A_DAY_S:
            aside.unlink()
        return
    handle = os.open(aside, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        aside.unlink()
    finally:
        os.close(handle)


def _flushed(stream: BinaryIO) -> None:
    stream.flush()
    os.fsync(stream.fileno())


def _put(aside: Path, stream: BinaryIO, target: Path) -> None:
    """Put a file aside in its place, and only then let go of it where the system allows that order."""
    if sys.platform == "win32":
        stream.close()
    aside.replace(target)
    stream.close()


def _keep_previous(target: Path) -> None:
    """Put a copy of what stands there beside it, itself in one step, before it is replaced."""
    with _aside(target) as (kept, stream):
        with target.open("rb") as before:
            shutil.copyfileobj(before, stream)
        _flushed(stream)
        with contextlib.suppress(OSError):
            shutil.copystat(target, kept)
        _put(kept, stream, previous_of(target))


def _flush_folder(folder: Path) -> None:
    """Flush the folder's own entry, where the system can; the file itself is on the disk already."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _mask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def _shortened(name: str, most_bytes: int) -> str:
    whole = name.encode("utf-8", "surrogateescape")
    return name if len(whole) <= most_bytes else whole[:most_bytes].decode("utf-8", "ignore")
