"""What the solver says when it cannot go on."""

from __future__ import annotations


class SolverError(ArithmeticError):
    """The equations cannot be solved; the sentence names what is loose or wrong and what to do."""
