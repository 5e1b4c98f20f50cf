"""The one way to make a finding and to say it: a sentence that names where, what was found and the next step.

The sentences themselves stand in words_file, words_shape, words_bolts, words_welds and words_rest.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Final

from geometry.finding import SEVERITIES, Finding, Severity, Value
from geometry.one_line import on_one_line
from geometry.words_bolts import BOLT_WORDS
from geometry.words_file import FILE_WORDS
from geometry.words_rest import REST_WORDS
from geometry.words_shape import SHAPE_WORDS
from geometry.words_welds import WELD_WORDS

WORDS: Final[Mapping[str, tuple[Severity, str]]] = {
    **FILE_WORDS,
    **SHAPE_WORDS,
    **BOLT_WORDS,
    **WELD_WORDS,
    **REST_WORDS,
}
"""By code: the usual severity, and the sentence with its values left open."""

_NAMED_AFTER_ITS_KIND: Final = re.compile(r"\b(plate|hole|slot|fold|bolt|weld|boss|anchor|bearing) (?=\1\b)")
"""A hole named `hole 4` is not called `hole hole 4`."""
LONGEST_VALUE: Final = 160
MOST_FINDINGS: Final = 60
"""Of one kind that are listed; the rest are counted."""


def found(code: str, where: str, *, severity: Severity | None = None, **values: Value) -> Finding:
    """Return a finding of that code; KeyError for a code that is not in the catalogue."""
    return Finding(code, severity or WORDS[code][0], _plain(where), values)


def fewer(findings: Iterable[Finding], where: str) -> list[Finding]:
    """Return no more of one kind than a person can read, and how many more there are.

    The gravest are listed, else the first ones: what bars a verdict is never among those that are counted.
    """
    whole = list(findings)
    counts: Counter[str] = Counter()
    kept: set[int] = set()
    for place in sorted(range(len(whole)), key=lambda n: SEVERITIES.index(whole[n].severity)):
        code = whole[place].code
        counts[code] += 1
        if counts[code] <= MOST_FINDINGS:
            kept.add(place)
    listed = [finding for place, finding in enumerate(whole) if place in kept]
    more = {code: count - MOST_FINDINGS for code, count in counts.items() if count > MOST_FINDINGS}
    return listed + [found("more-of-the-kind", where, kind=code, count=count) for code, count in more.items()]


def sentence(finding: Finding) -> str:
    """Return the finding as a sentence.

    One whose code is not in the catalogue is still told, with its values.
    """
    values = {
        key: _plain(value) if isinstance(value, str) else value for key, value in finding.values.items()
    }
    if finding.code not in WORDS:
        listed = ", ".join(f"{key} {value}" for key, value in values.items())
        return f"{finding.where}: {finding.code}{f' ({listed})' if listed else ''}"
    near = values.get("near")
    hint = f"; did you mean {near}?" if near else ""
    said = f"{finding.where}: {WORDS[finding.code][1].format_map({**values, 'hint': hint})}"
    return named_once(said)


def named_once(text: str) -> str:
    """Return the text with `plate plate` and the like said once."""
    return _NAMED_AFTER_ITS_KIND.sub("", text)


def _plain(text: str) -> str:
    """Return text from a file as a screen can take it: one line, nothing that draws, not too long."""
    clean = on_one_line(text)
    return clean if len(clean) <= LONGEST_VALUE else clean[: LONGEST_VALUE - 3] + "..."
