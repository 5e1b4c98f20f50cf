"""The table of the kinds of files that are tried, and how one case of a kind is made.

Glossary
--------
kind    one sort of file together with what is done with it
corpus  the files that cases are changed from: samples first, then those that reached new lines
"""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from random import Random
from typing import Any, Final

from app.record.profile import Profile
from app.record.record import Record
from geometry.bracket import Bracket
from geometry.loads import Limits
from geometry.part import Part
from tests.fuzz import (
    bytes_changed,
    containers_made,
    door,
    dxf_made,
    large_made,
    lists_made,
    pictures_made,
    samples,
    svg_made,
    trees,
    tried,
    tried_brackets,
)
from tests.fuzz.schema import FromSchema
from tests.fuzz.watch import MOST_BYTES


@dataclass(frozen=True)
class Kind:
    """One sort of file."""

    name: str
    suffix: str
    tried: Callable[[Path, Path, int], str]
    """(file, folder it may write to, number of the case) to `read` or `refused`."""
    made: Callable[[Random], bytes]
    """A file from the grammar."""
    seeds: Callable[[], tuple[bytes, ...]]
    words: tuple[bytes, ...] = ()
    """What means something in such a file, for changes of bytes."""
    is_tree: bool = False
    share: float = 1.0
    """Of all cases, beside the others'."""
    cpu_s: float = 5.0
    """Most time of the processor for a case."""
    most_bytes: float = MOST_BYTES
    """Of memory in all."""
    traced: bool = True
    """Whether the lines it reaches are measured, which makes a case take many times as long."""
    may: tuple[str, ...] = ()
    """Audit events that are right for it: the program itself starts a process of its own."""
    grammar: float = 0.35
    """The share of cases from the grammar; the rest is changed from the corpus."""

    def case(self, dice: Random, corpus: Sequence[bytes]) -> bytes:
        """Return the file of one case."""
        if dice.random() < self.grammar:
            return self.made(dice)
        start = dice.choice(corpus)
        if self.is_tree and dice.random() < 0.85:
            known = [data for data in map(_data, corpus[: len(self.seeds())]) if data is not None]
            tree = _data(start)
            if tree is not None:
                return trees.written(trees.changed(tree, known, dice), dice)
        return bytes_changed.changed(start, corpus, self.words, dice)


@cache
def _data(content: bytes) -> Any:  # noqa: ANN401 - any JSON
    try:
        return json.loads(content)
    except (ValueError, RecursionError):
        return None


def _of_schema(model: type[Part]) -> Callable[[Random], bytes]:
    @cache
    def schema() -> dict[str, Any]:
        return model.model_json_schema()

    def made(dice: Random) -> bytes:
        return trees.written(FromSchema(schema(), dice).drawn(), dice)

    return made


def _limits_made(dice: Random) -> bytes:
    return dice.choice(_EITHER)(dice)


_EITHER: Final = (_of_schema(Limits), _of_schema(Profile))
_bracket_made: Final = _of_schema(Bracket)

_OWN_PROCESS: Final = ("socket.__new__", "os.kill", "os.posix_spawn")
"""A pipe to it, and its end."""

KINDS: Final = {
    kind.name: kind
    for kind in (
        Kind(
            "bracket",
            ".bracket.json",
            tried_brackets.read,
            _bracket_made,
            samples.brackets,
            is_tree=True,
            share=14,
            grammar=0.25,
        ),
        Kind(
            "bracket solved",
            ".bracket.json",
            tried_brackets.solved,
            _bracket_made,
            samples.brackets,
            is_tree=True,
            share=0.15,
            cpu_s=120.0,
            traced=False,
            grammar=0.1,
        ),
        Kind(
            "SVG drawing",
            ".svg",
            tried.outline,
            svg_made.made,
            lambda: samples.drawings(".svg"),
            svg_made.WORDS,
            share=16,
        ),
        Kind(
            "DXF drawing",
            ".dxf",
            tried.outline,
            dxf_made.made,
            lambda: samples.drawings(".dxf"),
            dxf_made.WORDS,
            share=12,
        ),
        Kind(
            "picture",
            ".png",
            tried.picture,
            pictures_made.made,
            samples.pictures,
            pictures_made.WORDS,
            share=12,
        ),
        Kind("rig log", ".csv", tried.log, lists_made.log_made, samples.logs, lists_made.WORDS, share=14),
        Kind(
            "register list",
            ".csv",
            tried.register_list,
            lists_made.register_made,
            samples.lists,
            lists_made.WORDS,
            share=12,
        ),
        Kind(
            "register",
            ".sqlite3",
            tried.register_file,
            containers_made.register_db_made,
            samples.registers,
            containers_made.SQL_WORDS,
            share=3,
        ),
        Kind(
            "record", ".record.json", tried.record, _of_schema(Record), samples.records, is_tree=True, share=8
        ),
        Kind("limits, profile", ".json", tried.limits, _limits_made, samples.limits, is_tree=True, share=5),
        Kind(
            "report",
            ".pdf",
            tried.report,
            containers_made.pdf_made,
            samples.reports,
            containers_made.PDF_WORDS,
            share=3,
            may=_OWN_PROCESS,
        ),
        Kind(
            "command line",
            ".any",
            door.through,
            door.made,
            door.seeds,
            share=0.5,
            cpu_s=20.0,
            most_bytes=1.6e9,  # painting in three dimensions takes 0.8e9 with any bracket
            grammar=1.0,
            may=_OWN_PROCESS,
        ),
    )
}


def _large(name: str, made: Callable[[Random], bytes], cpu_s: float = 5.0) -> None:
    """Add the large files of a kind, of which there are few."""
    kind = replace(
        KINDS[name], name=f"{name}, large", made=made, share=0.01, cpu_s=cpu_s, grammar=1.0, traced=False
    )
    KINDS[kind.name] = kind


for _name, _made in (
    ("bracket", large_made.bracket_made),
    ("SVG drawing", large_made.svg_made),
    ("DXF drawing", large_made.dxf_made),
    ("picture", large_made.picture_made),
    ("register list", large_made.list_made),
    ("record", large_made.record_made),
    ("limits, profile", large_made.limits_made),
):
    _large(_name, _made)
_large("rig log", large_made.log_made, cpu_s=15.0)  # in proportion to its length
