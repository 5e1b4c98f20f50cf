"""A file of somebody's own limits, such as a certifier's: JSON with the fields of the bracket's `limits`."""

from __future__ import annotations

import difflib
import math
from typing import TYPE_CHECKING, Any

from pydantic import ValidationError

from app.cli.near_names import missing_file_sentence
from app.wording.figures import plain
from geometry.file_text import parse, read_bytes
from geometry.finding import Finding
from geometry.finding_words import sentence
from geometry.loads import Limits

if TYPE_CHECKING:
    from pathlib import Path


class LimitsFileError(ValueError):
    """A file of limits that cannot be used; each line of the message is one thing to put right."""


def read_limits(path: Path) -> Limits:
    """Return the limits in that file; a limit it leaves out stands at its default.

    LimitsFileError, naming all that is wrong with it, if it is not a file of limits.
    """
    missing = missing_file_sentence(path)
    if missing:
        raise LimitsFileError(missing)
    content = read_bytes(path)
    if isinstance(content, Finding):
        raise LimitsFileError(sentence(content))
    data, findings = parse(content, f"limits file {path.name}")
    if findings:
        raise LimitsFileError("\n".join(sentence(f) for f in findings))
    if not isinstance(data, dict):
        raise LimitsFileError(f"{path} holds no group of limits: it should read like {_example()}.")
    doubled = getattr(data, "doubled", ())
    wrong = [f"{path}: {key} stands in it more than once; leave one." for key in doubled]
    wrong += _wrong(path, data)
    if wrong:
        raise LimitsFileError("\n".join(wrong))
    return Limits.model_validate(data)


def _wrong(path: Path, data: dict[str, Any]) -> list[str]:
    if "plates" in data and "limits" in data:
        return [f"{path} is a bracket file: --limits wants a file with limits alone, such as {_example()}."]
    wrong = [_unknown(path, key) for key in data if key not in Limits.model_fields]
    known = {key: value for key, value in data.items() if key in Limits.model_fields}
    # a number in quotes or a yes would be taken for a number without a word
    usable = {key: value for key, value in known.items() if _is_number(value)}
    wrong += [
        f"{path}: {key} is {_shown(value)}; it has to be a finite number, such as {_usual(key)}."
        for key, value in known.items()
        if key not in usable
    ]
    try:
        Limits.model_validate(usable)
    except ValidationError as error:
        for e in error.errors(include_url=False):
            key = str(e["loc"][0]) if e["loc"] else "limits"
            reason = e["msg"].removeprefix("Input ").removeprefix("Value error, ")
            wrong.append(f"{path}: {key} is {_shown(e['input'])}; it {reason}, such as {_usual(key)}.")
    return wrong


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def _unknown(path: Path, key: str) -> str:
    near = difflib.get_close_matches(key[:60], Limits.model_fields, n=1, cutoff=0.5)
    advice = f"did you mean {near[0]}?" if near else f"there are: {', '.join(Limits.model_fields)}."
    return f"{path}: there is no limit {_shown(key)}; {advice}"


def _usual(key: str) -> str:
    return f"{getattr(Limits(), key, 1):g}"


def _shown(value: object) -> str:
    text = plain(repr(value))
    return text if len(text) <= 60 else text[:60] + "..."


def _example() -> str:
    return '{"turn_deg": 0.05, "yield_factor": 1.7}'
