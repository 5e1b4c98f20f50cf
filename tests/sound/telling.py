"""What became of all brackets of a trial, as a table."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from typing import Any

from tests.sound.the_way import kind_of

Row = dict[str, Any]
_SHAPES = (
    ("flat", lambda t: "flat" in t and "several folds" not in t and "one fold" not in t),
    ("one fold", lambda t: "one fold" in t and "several folds" not in t),
    ("several folds", lambda t: "several folds" in t),
    ("two plates or three", lambda t: "2 plates" in t or "3 plates" in t),
    ("straps side by side", lambda t: "straps side by side" in t),
    ("plates bolted together", lambda t: "plates bolted together" in t),
    ("welded edge", lambda t: any(word.startswith("welded to") for word in t)),
    ("slot or cut-out", lambda t: "slot" in t or any(word.startswith("cut-out") for word in t)),
    ("arc in the outline", lambda t: "arc in the outline" in t),
    ("opening through a bend", lambda t: "opening through a bend" in t),
    ("narrow flange", lambda t: "narrow flange" in t),
    ("thin sheet", lambda t: "thin sheet" in t),
    ("aluminium", lambda t: any(word in t for word in _ALUMINIUM)),
    ("stainless", lambda t: "sheet 1.4301" in t),
    ("spacer", lambda t: "spacer" in t),
    ("tubular dash bar", lambda t: any(word in t for word in ("bar, round tube", "bar, rectangular tube"))),
    ("solid dash bar", lambda t: "bar, round bar" in t or "bar, flat bar" in t),
    ("open dash bar", lambda t: "bar, angle" in t or "bar, channel" in t),
    ("inches", lambda t: "inch" in t),
    ("something blank", lambda t: any(word.startswith("blank:") for word in t)),
    ("as the band trial draws", lambda t: any(word.startswith("careful:") for word in t)),
)
_ALUMINIUM = ("sheet 5083-H111", "sheet 5052-H32", "sheet 6061-T6")
_ENDS = ("pass", "marginal", "fail", "no verdict", "sentence", "wrong")


def table(rows: Sequence[Row]) -> list[str]:
    """Return how brackets ended, by shape, and every kind of problem with how often it was met."""
    head = ["shape", "brackets", *_ENDS]
    lines = [f"| {' | '.join(head)} |", "|---|" + "--:|" * (len(head) - 1)]
    lines.append(_line("all", rows))
    shapes: Sequence[tuple[str, Callable[[list[str]], bool]]] = _SHAPES
    lines += [_line(name, [r for r in rows if has(r["tags"])]) for name, has in shapes]
    refined = [r for r in rows if r["refined"]]
    lines += [_line("refined", refined), _line("not refined", [r for r in rows if not r["refined"]])]
    solved = sorted(r["seconds"] for r in rows if r["unknowns"])
    tags = Counter(tag for r in rows for tag in r["tags"])
    steps = Counter(step for r in rows for step in r["steps"])
    lines += ["", f"{len(rows)} brackets with {len(tags)} features; {len(solved)} were meshed and solved."]
    if solved:
        middle, last = solved[len(solved) // 2], solved[-1]
        lines.append(f"Seconds of the processor: {middle:.1f} in the middle, {last:.0f} at most.")
    lines.append(", ".join(f"{count} {step}" for step, count in sorted(steps.items())))
    problems = Counter(kind for r in rows for kind in {kind_of(p) for p in r["problems"]})
    lines += ["", *(f"- {count} x {kind}" for kind, count in problems.most_common())]
    return lines


def ended_as(row: Row) -> str:
    """Return how a bracket ended: for pencil, what the verdict would be if its figures were ink."""
    if row["ended"] in ("traceback", "hang", "crash"):
        return "wrong"
    word = row["ended"] if row["refined"] else row["would_be"] or row["ended"]
    return str(word)


def _line(name: str, rows: Sequence[Row]) -> str:
    found = Counter(ended_as(row) for row in rows)
    return f"| {name} | {len(rows)} | {' | '.join(str(found[end]) for end in _ENDS)} |"
