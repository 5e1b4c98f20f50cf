"""What the solver says when it cannot go on."""

from __future__ import annotations

from geometry.one_line import on_one_line


class SolverError(ArithmeticError):
    """The equations cannot be solved; the sentence names what is loose or wrong and what to do."""

    def __init__(self, sentence: str) -> None:
        super().__init__(on_one_line(sentence))
