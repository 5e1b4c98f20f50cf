"""The error of everything that is kept on the disk beside brackets."""

from __future__ import annotations

import os


class FilesError(OSError):
    """What could not be kept or read, in one sentence for the user; nothing was lost by it."""


def reason_of(error: OSError | ValueError) -> str:
    """Return the system's reason in a few words, such as `No space left on device`."""
    if isinstance(error, OSError) and error.errno:
        return os.strerror(error.errno)
    return str(error) or type(error).__name__
