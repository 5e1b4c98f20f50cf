"""A file of somebody's own limits, such as a certifier's: JSON with the fields of the bracket's `limits`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from app.files.near_names import missing_file_sentence
from app.record import given_file
from app.record.given_file import GivenFileError

if TYPE_CHECKING:
    from pathlib import Path

    from app.record.profile import Profile
    from geometry.loads import Limits

LimitsFileError = GivenFileError


def read_limits(path: Path) -> Limits:
    """Return the limits in that file, which may be a whole profile; LimitsFileError if it is neither."""
    if missing := missing_file_sentence(path):
        raise LimitsFileError(missing)
    return given_file.read_limits(path)


def read_profile(path: Path) -> Profile:
    """Return the profile in that file, which may hold limits alone; LimitsFileError if it is neither."""
    if missing := missing_file_sentence(path):
        raise LimitsFileError(missing)
    return given_file.read_profile(path)
