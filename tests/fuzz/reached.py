"""Which lines of the program's own a case reaches, measured on a sample of cases.

Plain tracing: a function whose lines have all been reached is not traced any more.
"""

from __future__ import annotations

import sys
from types import CodeType, FrameType
from typing import Any, Final

from tests.fuzz.samples import ROOT

EVERY: Final = 20
"""One case of so many is measured: tracing is slow."""
_OWN: Final = tuple(str(ROOT / part) + "/" for part in ("app", "geometry", "solver"))


class Reached:
    """The lines reached so far."""

    def __init__(self) -> None:
        self.lines: set[tuple[CodeType, int]] = set()
        self._open: dict[CodeType, set[int] | None] = {}

    def begin(self) -> None:
        """Trace from now on."""
        sys.settrace(self._call)

    def end(self) -> None:
        """Trace no more."""
        sys.settrace(None)

    def _call(self, frame: FrameType, _event: str, _argument: Any) -> Any:  # noqa: ANN401
        code = frame.f_code
        if code not in self._open:
            own = code.co_filename.startswith(_OWN)
            self._open[code] = {line for _, _, line in code.co_lines() if line} if own else None
        return self._line if self._open[code] else None

    def _line(self, frame: FrameType, event: str, _argument: Any) -> Any:  # noqa: ANN401
        left = self._open[frame.f_code]
        if event == "line" and left and frame.f_lineno in left:
            left.discard(frame.f_lineno)
            self.lines.add((frame.f_code, frame.f_lineno))
        return self._line if left else None
