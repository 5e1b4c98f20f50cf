"""Files of figures that people write by hand: limits, and a certifier's profile. All that is wrong at once.

Nothing of such a file is used while anything in it is wrong: a limit left out for a slip of the pen would be
judged by a default that nobody wanted.
"""

from __future__ import annotations

import difflib
import json
import math
from pathlib import Path
from typing import Any, Final, TypeVar

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from app.record.profile import FORMAT, Profile
from app.wording.figures import plain
from geometry.file_text import parse, read_bytes
from geometry.finding import Finding
from geometry.finding_words import sentence
from geometry.loads import Limits
from geometry.part import Part

LIMITS_EXAMPLE: Final = '{"turn_deg": 0.05, "yield_factor": 1.7}'
_MOST_BYTES: Final = 500_000
_MOST_TOLD: Final = 30
_Given = TypeVar("_Given", bound=Part)


class GivenFileError(ValueError):
    """A file that cannot be used; each line of the message is one thing to put right."""


def read_limits(path: Path) -> Limits:
    """Return the limits in a file of limits or in a profile; a limit left out stands at its default.

    GivenFileError, naming all that is wrong, if it is neither.
    """
    data = _data_in(path, "limits")
    if data.get("format") == FORMAT:
        return _made(path, data, Profile).limits
    if "plates" in data and "limits" in data:
        raise GivenFileError(
            f"{path} is a bracket file: a file with limits alone is wanted, such as {LIMITS_EXAMPLE}."
        )
    return _made(path, data, Limits)


def read_profile(path: Path) -> Profile:
    """Return the profile in a file; a file of limits alone is a profile too, named after itself.

    GivenFileError, naming all that is wrong, if it is neither.
    """
    data = _data_in(path, "profile")
    if "format" in data or not any(key in Limits.model_fields for key in data):
        if data.get("format") != FORMAT:
            shown = _shown(data["format"]) if "format" in data else "missing"
            raise GivenFileError(f'{path}: its format is {shown}; a profile holds "format": "{FORMAT}".')
        return _made(path, data, Profile)
    return Profile(name=path.stem, limits=_made(path, data, Limits))


def _data_in(path: Path, kind: str) -> dict[str, Any]:
    content = read_bytes(path, kind, _MOST_BYTES)
    if isinstance(content, Finding):
        raise GivenFileError(sentence(content))
    data, findings = parse(content, f"{kind} file {path.name}")
    if findings:
        raise GivenFileError("\n".join(sentence(f) for f in findings))
    if not isinstance(data, dict):
        raise GivenFileError(f"{path} holds no group of limits: it should read like {LIMITS_EXAMPLE}.")
    return data


def _made(path: Path, data: dict[str, Any], model: type[_Given]) -> _Given:
    wrong = [f"{path}: {key} stands in it more than once; leave one." for key in _doubled(data)]
    wrong += _not_finite(path, data, model)
    try:
        made = model.model_validate_json(json.dumps(data), strict=True)
    except ValidationError as error:
        details = error.errors(include_url=False)
        wrong += [_sentence(path, detail, model) for detail in details[:_MOST_TOLD]]
        if len(details) > _MOST_TOLD:
            wrong.append(f"{path}: {len(details) - _MOST_TOLD} more such things are wrong.")
    # a number that is not finite is told twice, once by each
    if wrong:
        raise GivenFileError("\n".join(dict.fromkeys(wrong)))
    return made


def _sentence(path: Path, detail: ErrorDetails, model: type[Part]) -> str:
    where = _where(detail["loc"])
    kind, given = detail["type"], detail.get("input")
    if kind == "extra_forbidden":
        return _unknown(path, detail["loc"], model)
    if kind == "missing":
        return f"{path}: {where} is missing; give it."
    if kind in ("float_type", "finite_number"):
        return _not_a_number(path, where, given, _usual(model, detail["loc"]))
    reason = detail["msg"].removeprefix("Input ").removeprefix("Value error, ")
    reason = reason[:1].lower() + reason[1:]
    usual = _usual(model, detail["loc"])
    return f"{path}: {where} is {_shown(given)}; it {reason}{f', such as {usual}' if usual else ''}."


def _not_finite(path: Path, data: dict[str, Any], model: type[Part]) -> list[str]:
    return [
        _not_a_number(path, _where(trail), value, _usual(model, trail))
        for trail, value in _walk(data, ())
        if isinstance(value, float) and not math.isfinite(value)
    ]


def _not_a_number(path: Path, where: str, value: object, usual: str) -> str:
    shown = f"{value!r}" if isinstance(value, float) else _shown(value)
    return f"{path}: {where} is {shown}; it has to be a finite number{f', such as {usual}' if usual else ''}."


def _doubled(data: Any) -> list[str]:  # noqa: ANN401 - data is anything JSON holds
    found = list(getattr(data, "doubled", ()))
    values = data.values() if isinstance(data, dict) else data if isinstance(data, list) else ()
    return found + [key for value in values for key in _doubled(value)]


def _walk(data: Any, trail: tuple[str | int, ...]) -> list[tuple[tuple[str | int, ...], Any]]:  # noqa: ANN401
    if isinstance(data, dict):
        return [found for key, value in data.items() for found in _walk(value, (*trail, key))]
    if isinstance(data, list):
        return [found for place, value in enumerate(data) for found in _walk(value, (*trail, place))]
    return [(trail, data)]


def _unknown(path: Path, trail: tuple[int | str, ...], model: type[Part]) -> str:
    known = _fields(model, trail[:-1])
    key = str(trail[-1])
    near = difflib.get_close_matches(key[:60], known, n=1, cutoff=0.5)
    advice = f"did you mean {near[0]}?" if near else f"there are: {', '.join(known)}."
    what = "limit" if model is Limits or trail[:-1] == ("limits",) else "key"
    within = f" in {_where(trail[:-1])}" if len(trail) > 1 else ""
    return f"{path}: there is no {what} {_shown(key)}{within}; {advice}"


def _fields(model: type[Part], trail: tuple[int | str, ...]) -> list[str]:
    here: Any = model
    for key in trail:
        if isinstance(key, str) and key in getattr(here, "model_fields", {}):
            kind = here.model_fields[key].annotation
            inner = [k for k in getattr(kind, "__args__", ()) if isinstance(k, type) and issubclass(k, Part)]
            here = inner[0] if inner else kind
    return list(getattr(here, "model_fields", {}))


def _usual(model: type[Part], trail: tuple[int | str, ...]) -> str:
    here: Any = model.model_construct()
    for key in trail:
        here = getattr(here, key, None) if isinstance(key, str) else None
    return f"{here:g}" if isinstance(here, float | int) and not isinstance(here, bool) else ""


def _where(trail: tuple[int | str, ...]) -> str:
    words = [f"number {key + 1}" if isinstance(key, int) else plain(str(key))[:60] for key in trail]
    return ", ".join(words) or "the file"


def _shown(value: object) -> str:
    text = plain(repr(value))
    return text if len(text) <= 60 else text[:60] + "..."
