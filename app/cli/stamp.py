"""The verdict's stamp, drawn with characters: word and shape, never colour alone.

pass            double frame
marginal        dashed frame
fail            a frame struck through
no verdict      an empty frame
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from solver.results import Verdict

STYLES: Final[dict[Verdict, str]] = {
    "pass": "bold",
    "marginal": "bold yellow",
    "fail": "bold red",
    "no verdict": "bold",
}
"""Colour repeats the shape and carries nothing of its own."""

_EMPTY_WIDTH: Final = 8


def stamp(verdict: Verdict, ascii_only: bool = False) -> tuple[str, str, str]:
    """Return the three lines of the stamp, all equally long."""
    word = verdict.upper()
    n = len(word)
    if verdict == "no verdict":
        top, side = ("-", "|") if ascii_only else ("\u2500", "\u2502")
        corners = "++++" if ascii_only else "\u250c\u2510\u2514\u2518"
        line = top * _EMPTY_WIDTH
        return (
            corners[0] + line + corners[1],
            side + " " * _EMPTY_WIDTH + side,
            corners[2] + line + corners[3],
        )
    if verdict == "pass":
        if ascii_only:
            return ("#" + "=" * (n + 2) + "#", f"# {word} #", "#" + "=" * (n + 2) + "#")
        line = "\u2550" * (n + 2)
        return (f"\u2554{line}\u2557", f"\u2551 {word} \u2551", f"\u255a{line}\u255d")
    if verdict == "marginal":
        if ascii_only:
            line = ("- " * n)[: n + 2]
            return (f"+{line}+", f": {word} :", f"+{line}+")
        line = "\u254c" * (n + 2)
        return (f"\u250c{line}\u2510", f"\u254e {word} \u254e", f"\u2514{line}\u2518")
    if ascii_only:
        line = "-" * (n + 4)
        return (f" +{line}+ ", f"-+- {word} -+-", f" +{line}+ ")
    line = "\u2500" * (n + 4)
    return (f" \u250c{line}\u2510 ", f"\u2500\u253c\u2500 {word} \u2500\u253c\u2500", f" \u2514{line}\u2518 ")
