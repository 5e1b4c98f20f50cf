"""The moment at which a PDF was made, fixed where SOURCE_DATE_EPOCH says so. No Qt."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime
from os import environ
from typing import Final

_FIXED_BY: Final = "SOURCE_DATE_EPOCH"
_MOMENTS: Final = (
    (re.compile(rb"/(?:Creation|Mod)Date \(D:(\d{14})([^)]{0,8})\)"), "%Y%m%d%H%M%S"),
    (
        re.compile(rb'xmp:\w+Date="(\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d)([^"]{0,8})"'),
        "%Y-%m-%dT%H:%M:%S",
    ),
)


def today() -> str:
    """Return the date that stands on paper."""
    moment = fixed_moment()
    return (date.today() if moment is None else moment.date()).isoformat()


def fixed_moment() -> datetime | None:
    """Return the moment that SOURCE_DATE_EPOCH fixes, as is usual for files made twice; None for now."""
    given = environ.get(_FIXED_BY, "")
    return datetime.fromtimestamp(int(given), tz=UTC) if _is_moment(given) else None


def forget_wrong_moment() -> None:
    """Take a SOURCE_DATE_EPOCH that is no moment out of the environment: libraries fail over it."""
    if not _is_moment(environ.get(_FIXED_BY, "0")):
        del environ[_FIXED_BY]


def _is_moment(given: str) -> bool:
    return given.isascii() and given.isdecimal() and len(given) < 12


def with_moment(pdf: bytes, moment: datetime) -> bytes:
    """Return a PDF made at that moment, UTC; every place in it stays where it is."""
    for pattern, form in _MOMENTS:
        said = moment.strftime(form).encode("ascii")

        def fixed(match: re.Match[bytes], said: bytes = said) -> bytes:
            zone = re.sub(rb"\d", b"0", match[2]).replace(b"-", b"+")
            whole = match[0]
            start, end = match.start(1) - match.start(), match.end(2) - match.start()
            return whole[:start] + said + zone + whole[end:]

        pdf = pattern.sub(fixed, pdf)
    return pdf
