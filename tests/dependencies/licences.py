"""Whether a licence lets a package go with a program under the GNU GPL 3 or later.

The judgement is common practice, from the lists that the Free Software Foundation keeps (from memory, to be
verified against them), not a lawyer's.
"""

from __future__ import annotations

import re
from typing import Final

GOES: Final = (
    "0BSD",
    "Apache",  # 2.0: with version 3 of the GPL, not with 2
    "BSD",
    "CC0",
    "CMU",
    "GPL",  # LGPL and AGPL too; "GPL-2.0-only" is told apart below
    "GNU General Public",
    "GNU Lesser General Public",
    "HPND",
    "ISC",
    "LGPL",
    "MIT",
    "MPL",  # 2.0, unless it says that it is incompatible
    "Mozilla Public License 2.0",
    "PSF",
    "Python Software Foundation",
    "Unlicense",
    "Zlib",
    "zlib",
    "matplotlib",  # as Python's own
)
"""How names of licences that go with it begin."""
GOES_NOT: Final = re.compile(
    r"GPL-2\.0-only|GPLv2 only|non-?commercial|proprietary|commercial", re.IGNORECASE
)


def goes(licence: str) -> bool:
    """Return whether a package under such a licence may be combined with the program and handed on.

    Where a package leaves a choice (`A OR B`) one that goes is enough; where it is under several, all must.
    """
    return any(_all_go(choice) for choice in re.split(r"\bOR\b", licence))


def _all_go(licence: str) -> bool:
    names = [name.strip(" ()") for name in re.split(r"\bAND\b|,|;", licence) if name.strip(" ()")]
    return bool(names) and all(name.startswith(GOES) and not GOES_NOT.search(name) for name in names)
