"""The small faults that can be put into one file, each as a change of its text.

Left alone are docstrings and all other words, type hints, decorators, assertions, what is raised, and
settings that change speed alone (`SPEED_ONLY`): a fault there changes no answer, or is no fault.
"""

from __future__ import annotations

import ast
import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

SPEED_ONLY: Final = frozenset({"strict", "check_finite", "overwrite_a", "overwrite_b", "copy", "optimize"})
"""Keywords of calls that guard or hasten without changing an answer; `strict` stops a slip of ours alone."""

_ARITHMETIC: Final[Mapping[type[ast.operator], type[ast.operator]]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Div,
    ast.Mod: ast.Mult,
    ast.Pow: ast.Mult,
}
_COMPARISONS: Final[Mapping[type[ast.cmpop], Sequence[type[ast.cmpop]]]] = {
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
}
_TWINS: Final = {
    "min": "max",
    "max": "min",
    "minimum": "maximum",
    "maximum": "minimum",
    "argmin": "argmax",
    "argmax": "argmin",
    "any": "all",
    "all": "any",
    "floor": "ceil",
    "ceil": "floor",
}


@dataclass(frozen=True)
class Fault:
    """One small change of a file: where, what kind, the text before and after."""

    file: str
    """Path under the root, with forward slashes."""
    line: int
    column: int
    scope: str
    """Function (or class, or `module`) it stands in, with dots."""
    function: str
    """The outermost function whose body it stands in, as Python calls it; empty outside all bodies."""
    kind: str
    before: str
    after: str
    start: int
    """Where the text that is replaced begins, in bytes, and where it ends."""
    end: int

    @property
    def name(self) -> str:
        """Tell this fault from all others of the same text."""
        return f"{self.file}:{self.line}:{self.column} {self.kind}: {self.before} -> {self.after}"

    @property
    def kept_name(self) -> str:
        """The same without places, which move with every edit."""
        return f"{self.file} {self.scope}: {self.before} -> {self.after}"

    def put_in(self, text: str) -> str:
        """Return the file's text with this fault in it."""
        raw = text.encode()
        return (raw[: self.start] + self.after.encode() + raw[self.end :]).decode()


def faults_of(file: str, text: str) -> list[Fault]:
    """Return every fault that can be put into this file, in the order of its text."""
    finder = _Finder(file, text)
    finder.visit(ast.parse(text))
    return sorted(finder.found, key=lambda f: (f.start, f.end, f.kind, f.after))


def sample(faults: Sequence[Fault], count: int, seed: int) -> list[Fault]:
    """Return so many faults by lot: one of each function in turn, so that no long one has most of them."""
    lots = random.Random(seed)
    by_scope: dict[tuple[str, str], list[Fault]] = {}
    for fault in faults:
        by_scope.setdefault((fault.file, fault.scope), []).append(fault)
    scopes = list(by_scope.values())
    lots.shuffle(scopes)
    for scope in scopes:
        lots.shuffle(scope)
    rounds = max(map(len, scopes), default=0)
    turns = [scope[turn] for turn in range(rounds) for scope in scopes if turn < len(scope)]
    return turns[:count]


class _Finder(ast.NodeVisitor):
    """Walks a file and notes what could be changed."""

    def __init__(self, file: str, text: str) -> None:
        self.found: list[Fault] = []
        self._file = file
        self._raw = text.encode()
        self._scopes: list[str] = []
        self._function = ""
        lines = self._raw.splitlines(keepends=True)
        self._begins = [sum(map(len, lines[:n])) for n in range(len(lines) + 1)]

    def visit_FunctionDef(self, node: ast.FunctionDef) -> None:
        self._scopes.append(node.name)
        self._visit_all([*node.args.defaults, *(d for d in node.args.kw_defaults if d)])
        outermost = not self._function
        if outermost:
            self._function = ".".join(self._scopes)
        self._visit_all(node.body)
        if outermost:
            self._function = ""
        self._scopes.pop()

    def visit_ClassDef(self, node: ast.ClassDef) -> None:
        self._scopes.append(node.name)
        self._visit_all(node.body)
        self._scopes.pop()

    def visit_AnnAssign(self, node: ast.AnnAssign) -> None:
        if node.value is not None:
            self.visit(node.value)

    def _leave_alone(self, node: ast.AST) -> None:
        """Words, guards against slips of ours, and what is raised are no answers."""

    visit_JoinedStr = visit_Raise = visit_Assert = visit_ImportFrom = _leave_alone  # noqa: N815

    def visit_keyword(self, node: ast.keyword) -> None:
        if node.arg not in SPEED_ONLY:
            self.visit(node.value)

    def visit_If(self, node: ast.If) -> None:
        if not (isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING"):
            self._force(node.test, "True", "False")
            self.generic_visit(node)

    def visit_IfExp(self, node: ast.IfExp) -> None:
        self._force(node.test, "True", "False")
        self.generic_visit(node)

    def visit_While(self, node: ast.While) -> None:
        self._force(node.test, "False")
        self.generic_visit(node)

    def visit_comprehension(self, node: ast.comprehension) -> None:
        for test in node.ifs:
            self._force(test, "True", "False")
        self.generic_visit(node)

    def visit_Return(self, node: ast.Return) -> None:
        if node.value is not None and not _is_none(node.value):
            self._note(node.value, "return dropped", "None")
        self.generic_visit(node)

    def visit_BinOp(self, node: ast.BinOp) -> None:
        other = _ARITHMETIC.get(type(node.op))
        if other is not None and not (_is_words(node.left) or _is_words(node.right)):
            self._note(node, "arithmetic", ast.BinOp(node.left, other(), node.right))
        self.generic_visit(node)

    def visit_AugAssign(self, node: ast.AugAssign) -> None:
        other = _ARITHMETIC.get(type(node.op))
        if other is not None and not _is_words(node.value):
            self._note(node, "arithmetic", ast.AugAssign(node.target, other(), node.value))
        self.generic_visit(node)

    def visit_UnaryOp(self, node: ast.UnaryOp) -> None:
        if isinstance(node.op, ast.USub | ast.Not):
            self._note(node, "sign or not dropped", node.operand)
        self.generic_visit(node)

    def visit_Compare(self, node: ast.Compare) -> None:
        for place, operator in enumerate(node.ops):
            for other in _COMPARISONS[type(operator)]:
                operators = [*node.ops[:place], other(), *node.ops[place + 1 :]]
                self._note(node, "comparison", ast.Compare(node.left, operators, node.comparators))
        self.generic_visit(node)

    def visit_BoolOp(self, node: ast.BoolOp) -> None:
        other = ast.Or() if isinstance(node.op, ast.And) else ast.And()
        self._note(node, "and/or", ast.BoolOp(other, node.values))
        self.generic_visit(node)

    def visit_Call(self, node: ast.Call) -> None:
        called = node.func
        if isinstance(called, ast.Name) and called.id in _TWINS:
            self._note(called, "least/most", _TWINS[called.id])
        elif isinstance(called, ast.Attribute) and called.attr in _TWINS:
            self._note(called, "least/most", ast.Attribute(called.value, _TWINS[called.attr]))
        self.generic_visit(node)

    def visit_Slice(self, node: ast.Slice) -> None:
        for bound in (node.lower, node.upper):
            if bound is not None:
                self._note(bound, "slice", ast.BinOp(bound, ast.Add(), ast.Constant(1)))
                if not isinstance(bound, ast.Constant):
                    self.visit(bound)

    def visit_Constant(self, node: ast.Constant) -> None:
        value = node.value
        if isinstance(value, bool):
            self._note(node, "constant", str(not value))
        elif isinstance(value, int | float):
            nudged = {value * 2, value + 1, -value} - {value}
            for other in sorted(nudged):
                self._note(node, "constant", repr(other))

    def _visit_all(self, nodes: Sequence[ast.AST]) -> None:
        for node in nodes:
            self.visit(node)

    def _force(self, test: ast.expr, *answers: str) -> None:
        for answer in answers:
            self._note(test, "condition forced", answer)

    def _note(self, node: ast.expr | ast.stmt, kind: str, after: ast.AST | str) -> None:
        start = self._begins[node.lineno - 1] + node.col_offset
        end = self._begins[(node.end_lineno or node.lineno) - 1] + (node.end_col_offset or 0)
        text = after if isinstance(after, str) else ast.unparse(ast.fix_missing_locations(after))
        if isinstance(node, ast.expr) and not isinstance(node, ast.Slice):
            text = f"({text})"
        before = " ".join(self._raw[start:end].decode().split())
        scope = ".".join(self._scopes) or "module"
        self.found.append(
            Fault(
                self._file,
                node.lineno,
                node.col_offset,
                scope,
                self._function,
                kind,
                before,
                text,
                start,
                end,
            )
        )


def _is_none(node: ast.expr) -> bool:
    return isinstance(node, ast.Constant) and node.value is None


def _is_words(node: ast.expr) -> bool:
    """Whether it is seen to be text or a row of things, where only `+` means anything."""
    return isinstance(node, ast.JoinedStr | ast.Tuple | ast.List) or (
        isinstance(node, ast.Constant) and isinstance(node.value, str)
    )


def every_fault(texts: Mapping[str, str]) -> Iterator[Fault]:
    """Yield the faults of all these files (path and text), file by file."""
    for file in sorted(texts):
        yield from faults_of(file, texts[file])
