"""From plain data to a bracket: everything wrong is told at once, and what is sound goes on.

A value that is wrong is taken out together with the smallest thing that cannot do without it: an optional
value falls back to its default, a bolt without a name goes as a whole.
"""

from __future__ import annotations

import difflib
import json
from dataclasses import dataclass, field
from typing import Any, Final, TypeVar

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from geometry.bracket import Bracket
from geometry.file_text import Trail, prune
from geometry.file_trail import LIST_WORDS, fields_at, from_the_end, trail_of, value_at, where_of
from geometry.finding import Finding, Severity, Value
from geometry.finding_words import fewer, found
from geometry.part import Part

_WHOLE_LISTS: Final = ("outline", "corners", "ends")
"""Lists that mean nothing with a piece missing."""
_WEIGHTY: Final = (*LIST_WORDS, "casing", "column", "dash_bar", "loads", "placement", "section", "spacer")
"""Values that are more than a figure: with one of them left out it is another bracket."""
_HARMLESS: Final = ("claim", "title", "note", "layout", "seen_by")
"""Values that enter no result: losing one is only worth a note."""
_LOSS: Final[dict[str | int, Severity]] = {"claim": "note", "installation": "doubt", "fit_up": "doubt"}
"""Groups whose loss leaves the bracket the same, and what it is worth."""
_ROUNDS: Final = 400

AnyPart = TypeVar("AnyPart", bound=Part)


def validate(data: dict[str, Any]) -> tuple[Bracket | None, list[Finding]]:
    """Return the bracket that the sound part of the data makes, and a finding for all that is not sound.

    Changes the data. The bracket is None only if nothing is left that makes one.
    """
    bracket, findings = validate_part(data, Bracket)
    if bracket is None:
        findings.append(found("file-not-a-bracket", "file", kind="bracket"))
    return bracket, findings


def validate_part(data: dict[str, Any], model: type[AnyPart]) -> tuple[AnyPart | None, list[Finding]]:
    """Return what the sound part of the data makes, as `validate` does for a bracket.

    Where it makes nothing, only what led to that is told: what kind of file it should be the caller knows.
    """
    cleaning = _Cleaning(data, model)
    for trail, code, values in prune(data):
        if code.startswith("number-"):
            cleaning.refuse(trail, code, values)
        else:
            cleaning.tell(trail, code, values)
    cleaning.carry_out()
    for _ in range(_ROUNDS):
        try:
            return model.model_validate_json(json.dumps(data), strict=True), cleaning.findings()
        except ValidationError as error:
            for detail in sorted(error.errors(include_url=False), key=_beside_the_point):
                cleaning.take(detail)
            if not cleaning.carry_out():
                break
    return None, cleaning.findings()


@dataclass
class _Wrong:
    """A value that was refused, while it is not yet known how much goes with it."""

    code: str
    where: str
    values: dict[str, Value]
    severity: Severity | None = None


@dataclass
class _Cleaning:
    """Takes what is refused out of the data, bottom up, and keeps the findings."""

    data: dict[str, Any]
    model: type[Part]
    told: list[_Wrong] = field(default_factory=list)
    going: dict[Trail, _Wrong | None] = field(default_factory=dict)
    missed: dict[tuple[int, str], _Wrong] = field(default_factory=dict)
    """(id of a group, key) taken out of it: if that key turns out to be needed, the group goes as well."""

    def tell(self, trail: Trail, code: str, values: dict[str, Value]) -> _Wrong:
        """Note a finding."""
        wrong = _Wrong(code, where_of(self.data, trail), values)
        self.told.append(wrong)
        return wrong

    def refuse(self, trail: Trail, code: str, values: dict[str, Value]) -> None:
        """Note a finding and mark its value to be taken out.

        A severity stands until more has to go with it.
        """
        wrong = self.tell(trail, code, values)
        wrong.severity = "note" if any(key in _HARMLESS for key in trail) else "doubt"
        self._mark(trail, wrong)

    def take(self, detail: ErrorDetails) -> None:
        """Note what the model refuses."""
        trail = trail_of(self.data, detail)
        kind = detail["type"]
        if kind == "extra_forbidden":
            key = str(trail[-1])
            self.tell(
                trail[:-1],
                "key-unknown",
                {"key": key, "near": _nearest(key, fields_at(self.data, trail[:-1], self.model))},
            )
            self.going[trail] = None
        elif kind == "missing" and isinstance(detail["loc"][-1], int):
            self.refuse(
                trail,
                "wrong-length",
                {"value": _shown(value_at(self.data, trail)), "reason": "it has too few entries"},
            )
        elif kind in ("missing", "union_tag_not_found"):
            self._take_missing(trail, detail)
        elif not self._marked(trail):
            code, values = _told(detail)
            self.refuse(trail, code, values)

    def carry_out(self) -> bool:
        """Take out everything marked; return whether there was anything."""
        marked = sorted(self.going, key=from_the_end)
        for trail in marked:
            holder = value_at(self.data, trail[:-1])
            wrong = self.going[trail]
            if isinstance(holder, dict):
                holder.pop(str(trail[-1]), None)
                if wrong is not None:
                    self.missed[id(holder), str(trail[-1])] = wrong
            elif isinstance(holder, list) and isinstance(trail[-1], int) and trail[-1] < len(holder):
                holder.pop(trail[-1])
        self.going = {}
        return bool(marked)

    def findings(self) -> list[Finding]:
        """Return what was noted; of one kind no more than a person can read, then how many more."""
        return fewer([found(w.code, w.where, severity=w.severity, **w.values) for w in self.told], "file")

    def _take_missing(self, trail: Trail, detail: ErrorDetails) -> None:
        holder = trail[:-1]
        key = str(trail[-1])
        if detail["type"] == "union_tag_not_found":
            holder, key = trail, str(detail.get("ctx", {}).get("discriminator", "'kind'")).strip("'")
        before = self.missed.get((id(value_at(self.data, holder)), key))
        if before is None:
            before = self.tell(holder, "key-missing", {"key": key})
        before.severity = _LOSS.get(holder[0], "stop") if holder else "stop"
        self._mark(holder, before)

    def _marked(self, trail: Trail) -> bool:
        """Tell whether the value, what holds it or something within it goes already.

        Alternatives are refused one by one.
        """
        if any(trail[:n] in self.going for n in range(1, len(trail) + 1)):
            return True
        value = value_at(self.data, trail)
        return isinstance(value, dict) and any((*trail, key) in self.going for key in value)

    def _mark(self, trail: Trail, wrong: _Wrong) -> None:
        """Mark what goes: the value, or the whole list if it means nothing with a piece missing."""
        for i, key in enumerate(trail[:-1]):
            of_numbers = isinstance(value_at(self.data, trail[: i + 1]), list) and key not in LIST_WORDS
            if key in _WHOLE_LISTS or of_numbers:
                trail = trail[: i + 1]
                break
        if trail:
            self.going[trail] = wrong
            weighty = isinstance(trail[-1], int) or trail[-1] in _WEIGHTY
            if weighty and trail[0] not in _LOSS and wrong.severity == "doubt":
                wrong.severity = "stop"


def _beside_the_point(detail: ErrorDetails) -> bool:
    """Tell whether a refusal comes from the alternative that was not meant.

    A word where a group was given, or the reverse.
    """
    if detail["type"] == "literal_error":
        return not isinstance(detail["input"], str)
    return detail["type"] == "model_type" and isinstance(detail["input"], str)


def _told(detail: ErrorDetails) -> tuple[str, dict[str, Value]]:
    """Return the code and values for a kind of refusal."""
    kind, value, context = detail["type"], _shown(detail["input"]), detail.get("ctx", {})
    if kind in ("greater_than", "greater_than_equal", "less_than", "less_than_equal"):
        words = {"gt": "above", "ge": "at least", "lt": "below", "le": "at most"}
        sign, bound = next((k, v) for k, v in context.items() if k in words)
        return "number-out-of-range", {"value": value, "allowed": f"{words[sign]} {bound:g}"}
    if kind in ("literal_error", "union_tag_invalid"):
        expected = str(context.get("expected", context.get("expected_tags", "")))
        near = _nearest(
            str(detail["input"] if kind == "literal_error" else context.get("tag", "")), _quoted(expected)
        )
        return "word-unknown", {"value": value, "expected": expected.replace("'", ""), "near": near}
    if kind.endswith("_type") or kind in ("float_parsing", "int_parsing"):
        return "wrong-type", {
            "value": value,
            "wanted": _KINDS.get(kind.removesuffix("_type"), kind.removesuffix("_type")),
        }
    if kind.endswith(("too_long", "too_short")):
        bound = context.get("max_length", context.get("min_length", 0))
        sort = "characters" if kind.startswith("string") else "entries"
        return "wrong-length", {
            "value": value,
            "reason": f"{'at most' if 'long' in kind else 'at least'} {bound} {sort} belong there",
        }
    return "value-refused", {"value": value, "reason": _plain(detail["msg"].removeprefix("Value error, "))}


_KINDS: Final = {
    "float": "a number",
    "int": "a whole number",
    "string": "text in quotation marks",
    "bool": "true or false",
    "tuple": "a list",
    "model": "a group in braces",
    "model_attributes": "a group in braces",
    "dict": "a group in braces",
}


def _plain(message: str) -> str:
    return message[:1].lower() + message[1:]


def _shown(value: Any) -> str:  # noqa: ANN401 - data is anything JSON holds
    text = json.dumps(value, default=str)
    return text if len(text) <= 60 else text[:57] + "..."


def _quoted(expected: str) -> list[str]:
    return [word.strip(" '") for word in expected.replace(" or ", ",").split(",")]


def _nearest(word: str, known: list[str]) -> str:
    near = difflib.get_close_matches(word[:60], known, n=1, cutoff=0.55)
    if near:
        return near[0]
    return next((name for name in known if len(word) > 3 and name.startswith(word.casefold())), "")
