"""Two pages of paper as content: the letter of open items to the builder, and the sheet to fill at the car.

How they are laid on paper is not said here.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from app.cautions import CAUTIONS
from app.record.check_list import GROUPS
from app.record.comparison import Comparison
from app.record.due import conditions_told
from app.record.open_items import OpenItem, RecordStanding
from app.record.profile import Profile
from app.record.record import HASH_WORDS, Item, Record
from app.wording.figures import Units, in_units, reading_in_units, sentence_in_units
from geometry.bracket import Bracket
from geometry.plate import Hole, Slot


@dataclass(frozen=True)
class PaperLine:
    """One line: words, and what is filled in by hand after them."""

    words: str
    mark: str = ""
    """What stands before the words, such as a number."""
    boxes: tuple[str, ...] = ()
    """Words of boxes to tick, such as `met`."""
    blank: str = ""
    """Unit after a blank that is filled by hand; a space alone is a blank for words."""


@dataclass(frozen=True)
class PaperSection:
    """A heading and its lines."""

    heading: str
    lines: tuple[PaperLine, ...]


@dataclass(frozen=True)
class PaperSheet:
    """One page."""

    title: str
    under_title: tuple[str, ...]
    sections: tuple[PaperSection, ...]
    signed: tuple[str, ...]
    """Words under the lines to sign on."""
    foot: tuple[str, ...]


_GAUGED = ("zero", "left", "zero after left", "right", "zero after right", "left again")
_BOXES = ("met", "not met", "n.a.")


def letter_of(
    record: Record,
    items: Iterable[OpenItem],
    standing: RecordStanding,
    comparison: Comparison,
    profile: Profile,
) -> PaperSheet:
    """Return the letter to the builder: how it stands, and every open item with its number."""
    items = tuple(items)
    numbered = {id(item): str(number) for number, item in enumerate(_by_group(items), 1)}
    sections = [
        PaperSection(
            "How it stands",
            (
                PaperLine(_stop(standing.sentence)),
                PaperLine(_stop(f"Computed: {comparison.verdict_line}")),
                *(PaperLine(_stop(reason)) for reason in comparison.reasons[:2]),
                *((PaperLine(_stop(comparison.under_builder)),) if comparison.under_builder else ()),
                *((PaperLine(_stop(comparison.built_line)),) if comparison.built_line else ()),
            ),
        )
    ]
    for about in dict.fromkeys(item.about for item in _by_group(items)):
        lines = tuple(
            PaperLine(_stop(item.words), mark=numbered[id(item)])
            for item in _by_group(items)
            if item.about == about
        )
        sections.append(PaperSection(f"Open: {_about_words(about)}", lines))
    if not items:
        sections.append(PaperSection("Open", (PaperLine("Nothing is open."),)))
    if record.conditions:
        kept = tuple(PaperLine(_stop(c), mark=str(n)) for n, c in enumerate(conditions_told(record), 1))
        sections.append(PaperSection("Conditions", kept))
    if record.remarks.strip():
        sections.append(PaperSection("Remarks", (PaperLine(record.remarks.strip()),)))
    return PaperSheet(
        title="Open items" if items else "Inspection of a bracket",
        under_title=_about_bracket(record),
        sections=tuple(sections),
        signed=(_or(record.certifier, "certifier"), _or(record.date, "date")),
        foot=(HASH_WORDS, *profile.cautions, *CAUTIONS),
    )


def car_sheet_of(bracket: Bracket, record: Record, profile: Profile) -> PaperSheet:
    """Return the sheet to take to the car: every line of the check-list and everything to be measured."""
    sections = [
        PaperSection(_about_words(group), tuple(_to_tick(item) for item in lines))
        for group in GROUPS
        if (lines := [item for item in record.check_list if item.group == group])
    ]
    return PaperSheet(
        title="Inspection at the car",
        under_title=_about_bracket(record),
        sections=(*sections, *_to_measure(bracket)),
        signed=(_or(record.certifier, "certifier"), "date", "place of the car"),
        foot=(HASH_WORDS, *profile.cautions, *CAUTIONS[:1], *CAUTIONS[3:5]),
    )


def sheet_in_units(sheet: PaperSheet, units: Units) -> PaperSheet:
    """Return the page for an inch reader, with blanks in inches."""
    if units == "mm":
        return sheet
    sections = tuple(
        replace(
            section,
            lines=tuple(
                replace(one, words=_told(one, units), blank=_blank_in_inches(one.blank))
                for one in section.lines
            ),
        )
        for section in sheet.sections
    )
    return replace(sheet, sections=sections)


def _told(one: PaperLine, units: Units) -> str:
    """Return the words of a line; of one to fill in the inch figure alone, for all must fit on one page."""
    to_measure = bool(one.blank.strip())
    return reading_in_units(one.words, units, digits=4) if to_measure else sentence_in_units(one.words, units)


def _blank_in_inches(blank: str) -> str:
    *before, unit = blank.split(" ")
    return " ".join((*before, in_units(1.0, unit, "inch")[1]))


def _to_tick(item: Item) -> PaperLine:
    words = item.words if not item.clause else f"{item.words} [{item.clause}]"
    return PaperLine(words, boxes=_BOXES, blank=" ")


def _to_measure(bracket: Bracket) -> tuple[PaperSection, ...]:
    thick = [PaperLine(f"{p.name}, drawn {p.thickness_mm:g} mm thick", blank="mm") for p in bracket.plates]
    bored = [
        PaperLine(
            f"hole {o.name} of {p.name}, drawn at ({o.centre_mm[0]:g}, {o.centre_mm[1]:g}) mm",
            blank="x, y mm",
        )
        for p in bracket.plates
        for o in p.openings
        if isinstance(o, Hole | Slot)
    ]
    tight = [
        PaperLine(
            f"bolt {b.name}, {b.size} {b.grade or 'grade blank'}:"
            f" {'torque blank' if b.tightening_nm is None else f'{b.tightening_nm:g} N.m'}",
            blank="N.m",
        )
        for b in bracket.bolts
    ]
    proof = [
        PaperLine("mass hung", blank="kg"),
        PaperLine("at an arm of", blank="mm"),
        PaperLine("lever's station along the shaft", blank="mm"),
        PaperLine("gauge touches the casing at", blank="x, y, z mm"),
        *(PaperLine(f"dial gauge, {where}", blank="mm") for where in _GAUGED),
        PaperLine("play at the casing by hand", blank="mm"),
    ]
    return (
        PaperSection("measured: thickness", tuple(thick)),
        PaperSection("measured: holes", tuple(bored)),
        PaperSection("measured: torque", tuple(tight)),
        PaperSection("proof: unit unpowered, shafts free; hang left, right, left", tuple(proof)),
    )


def _about_bracket(record: Record) -> tuple[str, ...]:
    return (
        f"{record.title or 'bracket without a title'}; file {record.bracket_file or 'not saved'}",
        f"inputs {record.bracket_hash[:16]}; program {record.program}",
    )


def _by_group(items: tuple[OpenItem, ...]) -> list[OpenItem]:
    order = [*GROUPS, "measured", "computed", "record"]
    return sorted(items, key=lambda item: order.index(item.about) if item.about in order else len(order))


def _about_words(about: str) -> str:
    said = {"record": "the record itself", "computed": "what is computed", "measured": "what was measured"}
    return said.get(about, about)


def _stop(text: str) -> str:
    text = " ".join(text.split())
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "!", "?")) else f"{text}."


def _or(text: str, blank: str) -> str:
    return f"{blank}: {text}" if text.strip() else blank
