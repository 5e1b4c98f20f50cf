"""What is wrong with how a command was called, and what was probably meant."""

from __future__ import annotations

import difflib
from collections.abc import Sequence
from typing import Final

import typer

from app.wording.program_name import program_name

_NEEDED: Final = {
    "report": "a bracket file and a file to write: {name} report FILE -o OUT.pdf",
    "around": "a bracket file: {name} around FILE",
    "sensitivity": "a bracket file: {name} sensitivity FILE",
    "paper": "a sheet and a PDF to write: {name} paper FILE --sheet template -o OUT.pdf",
    "compare": "bracket files: {name} compare FILE FILE",
    "record": "a bracket file: {name} record FILE",
    "riglog": "a rig's log: {name} riglog CSV",
    "motion": "a bracket file and a picture to write: {name} motion FILE -o OUT.gif",
    "handout": "a bracket file and a PDF to write: {name} handout FILE -o OUT.pdf",
    "questions": "a bracket file and a PDF to write: {name} questions FILE -o OUT.pdf",
    "cut": "a bracket file and a file to write: {name} cut FILE -o OUT.svg",
    "check": "a bracket file: {name} check FILE",
    "picture": "a bracket file and a picture to write: {name} picture FILE -o OUT.png",
}
"""What a command cannot do without, such as is typed."""


def usage_sentence(error: typer.TyperException, given: Sequence[str], commands: Sequence[str]) -> str:
    """Return what is wrong with the words given, with what was probably meant, in a sentence.

    `given` is what was typed after the program's name, `commands` the names of all there are.
    """
    name = program_name()
    of = f"{name} {given[0]}" if given and given[0] in commands else name
    option = getattr(error, "option_name", None)
    possibilities = getattr(error, "possibilities", None)
    if isinstance(option, str) and hasattr(error, "possibilities"):
        if possibilities:
            return f"There is no option {option}; did you mean {possibilities[0]}?"
        return f"There is no option {option}: {of} --help lists what there is."
    if given and not given[0].startswith("-") and given[0] not in commands:
        word = given[0]
        near_words = difflib.get_close_matches(word.casefold(), commands, n=1, cutoff=0.5)
        advice = f"did you mean {near_words[0]}?" if near_words else f"there are: {', '.join(commands)}."
        return f"There is no command {word}; {advice}"
    if type(error).__name__ == "MissingParameter" and given and given[0] in _NEEDED:
        return f"{given[0]} needs {_NEEDED[given[0]].format(name=name)}"
    said = error.format_message().replace("Value error, ", "").removeprefix("Invalid value: ").rstrip(".")
    return f"{said}. {of} --help lists what there is."
