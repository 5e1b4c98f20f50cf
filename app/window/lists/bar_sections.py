"""A dash bar's section as it is typed and shown: a word, then its sizes. No Qt."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from pydantic import TypeAdapter

from geometry.bar_section import Round, Section, Solid

SECTION_WORDS: Final = {
    "round bar": "round bar",
    "round tube": "round",
    "flat bar": "flat bar",
    "angle": "angle",
    "channel": "channel",
    "rectangular tube": "",
}
"""What stands before the sizes of each kind; the longer word first."""
EXAMPLE: Final = (
    "38.1 x 2.5 mm for a round tube, 40 x 40 x 3 mm for a square one, round bar 25 mm, flat bar 40 x 10 mm,"
    " angle 50 x 50 x 5 mm, channel 30 x 60 x 3 mm"
)
_FIELDS: Final = {
    "round bar": ("outer_mm",),
    "round tube": ("outer_mm", "wall_mm"),
    "flat bar": ("width_mm", "height_mm"),
    "angle": ("width_mm", "height_mm", "wall_mm"),
    "channel": ("width_mm", "height_mm", "wall_mm"),
    "rectangular tube": ("width_mm", "height_mm", "wall_mm"),
}
_SECTION: Final[TypeAdapter[Section]] = TypeAdapter(Section)


def section_sizes(section: Section) -> tuple[float, ...]:
    """Return the sizes in the order they are typed, mm: outside first, then the wall where there is one."""
    outside = (section.outer_mm,) if isinstance(section, Round) else (section.width_mm, section.height_mm)
    return outside if isinstance(section, Solid) else (*outside, section.wall_mm)


def parted(text: str) -> tuple[str, str]:
    """Return the word a section begins with, empty for none, and the rest."""
    typed = text.strip().casefold()
    word = next((w for w in SECTION_WORDS.values() if typed.startswith(w)), "")
    return word, typed.removeprefix(word)


def section_from(word: str, sizes: Sequence[float]) -> Section | None:
    """Return the section of that word and those sizes; None where they fit none."""
    kinds = [kind for kind, known in SECTION_WORDS.items() if known == word]
    if word == "" and len(sizes) == len(_FIELDS["round tube"]):
        kinds = ["round tube"]
    kind = next((k for k in kinds if len(_FIELDS[k]) == len(sizes)), None)
    if kind is None:
        return None
    return _SECTION.validate_python({"kind": kind, **dict(zip(_FIELDS[kind], sizes, strict=True))})
