"""Every check that the solver can give has its formula in words."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from app.wording.check_formulas import FORMULAS, formula_of
from solver.bolt_checks import bolt_rules

SOLVER = Path(__file__).parents[3] / "solver"
_MAKERS = {"Check", "Swinging"}
NAMED_ELSEWHERE = {
    "bolt_checks.py",
    "movement_checks.py",
    "fatigue.py",
    "fit_up_checks.py",
    "thread_checks.py",
    "buckling.py",
    "frequency.py",
}
"""Files in which a check's name is a variable; their names are in `OTHER_NAMES` or written out beside it."""
OTHER_NAMES = (
    "turn", "lean", "movement", "movement with a pull", "movement with a pull, slipped", "buckling",
    "natural frequency",
    "fit-up gap", "fit-up holes", "fit-up pull", "fit-up face", "fit-up bolt",
    *(rule.name for rule in bolt_rules()),
)  # fmt: skip


def _beginning(name: ast.expr) -> str | None:
    if isinstance(name, ast.JoinedStr):
        name = name.values[0]
    return name.value if isinstance(name, ast.Constant) and isinstance(name.value, str) else None


def written_names() -> list[tuple[str, str | None]]:
    """Return file and how the name begins of every check that is made in the solver."""
    return [
        (path.name, _beginning(call.args[0]))
        for path in sorted(SOLVER.rglob("*.py"))
        for call in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(call, ast.Call) and call.args
        if isinstance(call.func, ast.Name) and call.func.id in _MAKERS
    ]


def test_every_check_has_a_formula() -> None:
    names = written_names()
    assert len(names) > 6
    assert [file for file, name in names if name is None and file not in NAMED_ELSEWHERE] == []
    written = [name for _, name in names if name is not None]
    assert [name for name in (*written, *OTHER_NAMES) if not formula_of(name)] == []


@pytest.mark.parametrize(
    ("name", "piece"),
    [
        ("bolt shear and tension", "1.4 F_t,Rd"),
        ("bolt shear", "alpha_v"),
        ("movement with a pull, slipped", "pull included"),
        ("movement", "as measured"),
        ("net section, front", "N/A"),
    ],
)
def test_the_longest_beginning_counts(name: str, piece: str) -> None:
    assert piece in formula_of(name)


def test_an_unknown_check_has_none_and_no_formula_is_there_twice() -> None:
    assert formula_of("a check of some other day") == ""
    begins = [begin for begin, _ in FORMULAS]
    assert len(set(begins)) == len(begins)
