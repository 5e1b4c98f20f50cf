"""DXF drawings as a stranger might hand them in: group codes and values, with hostile ones among them."""

from __future__ import annotations

from random import Random
from typing import Final

from tests.fuzz import hostile

WORDS: Final = tuple(
    word.replace(" ", "\n").encode()
    for word in (
        "  0 LINE ", " 0 CIRCLE ", " 0 ARC ", " 0 LWPOLYLINE ", " 0 POLYLINE ", " 0 VERTEX ", " 0 SEQEND ",
        " 0 SPLINE ", " 0 ELLIPSE ", " 0 INSERT ", " 0 ENDSEC ", " 0 EOF ", " 0 SECTION ", " 0 BLOCK ",
        " 0 ENDBLK ", " 2 ENTITIES ", " 2 BLOCKS ", " 2 HEADER ", " 9 $INSUNITS 70 4 ", " 2 b0 ", " 8 0 ",
        " 70 1 ", " 90 1000000 ", " 90 -1 ", " 71 3 ", " 72 8 ", " 73 4 ", " 40 0 ", " 42 1e308 ", " 42 1 ",
        " 10 nan ", " 230 -1 ", " 210 0 220 0 230 0 ", " 1 ../x ", " 5 FFFFFFFFFFFFFFFFF ", " 330 0 ",
        " 100 AcDbCircle ",
        " 70 9999 71 9999 ", " 66 1 ", " 62 -7 ", " 310 00 ", " 1001 ACAD ", " 102 {X ", " 999 x ",
        " 41 1e-300 ",
    )
)  # fmt: skip


_ENTITIES: Final = (
    "LINE", "LINE", "ARC", "CIRCLE", "LWPOLYLINE", "LWPOLYLINE", "POLYLINE", "ELLIPSE", "SPLINE", "TEXT",
    "INSERT",
)  # fmt: skip


def made(dice: Random) -> bytes:
    """Return one drawing."""
    return _Drawing(dice).whole()


class _Drawing:
    def __init__(self, dice: Random) -> None:
        self._dice = dice
        self._daring = dice.choice((0.0, 0.0, 0.01, 0.05, 0.3))
        self._lines: list[str] = []
        self._blocks = dice.choice((0, 0, 1, 3, 14))

    def whole(self) -> bytes:
        dice = self._dice
        if dice.random() < 0.7:
            self._put((0, "SECTION"), (2, "HEADER"))
            if dice.random() < 0.8:
                self._put(
                    (9, "$ACADVER"), (1, dice.choice(("AC1009", "AC1015", "AC1024", "AC1032", self._text())))
                )
            if dice.random() < 0.7:
                self._put((9, "$INSUNITS"), (70, dice.choice(("0", "1", "4", "5", "6", self._n()))))
            self._put((0, "ENDSEC"))
        if self._blocks:
            self._put((0, "SECTION"), (2, "BLOCKS"))
            for number in range(self._blocks):
                self._put((0, "BLOCK"), (8, "0"), (2, f"b{number}"), (70, "0"), (10, "0"), (20, "0"))
                for _ in range(dice.choice((1, 2, 10))):
                    self._entity(number + 1)
                self._put((0, "ENDBLK"))
            self._put((0, "ENDSEC"))
        self._put((0, "SECTION"), (2, "ENTITIES"))
        if dice.random() < 0.7:
            self._frame()
        for _ in range(dice.choice((0, 1, 4, 12, 60))):
            self._entity(0)
        self._put((0, "ENDSEC"))
        self._lines += ["  0", "EOF"]
        end = dice.choice(("\n", "\n", "\r\n"))
        coding = "utf-16" if dice.random() < 0.01 else "utf-8"
        return (end.join(self._lines) + end).encode(coding, errors="replace")

    def _put(self, *pairs: tuple[int, str]) -> None:
        for code, value in pairs:
            if self._dice.random() < self._daring / 20:
                continue
            self._lines += [f"{code:3d}", value]

    def _n(self) -> str:
        dice = self._dice
        if dice.random() < self._daring:
            return dice.choice((str(hostile.figure(dice)), self._text()))[:400]
        return f"{dice.choice((0.0, 10.0, 50.0, dice.uniform(-20.0, 120.0))):.4g}"

    def _text(self) -> str:
        return hostile.text(self._dice)[:2_000]

    def _at(self, first: int = 10) -> list[tuple[int, str]]:
        found = [(first, self._n()), (first + 10, self._n())]
        return [*found, (first + 20, self._n())] if self._dice.random() < self._daring else found

    def _entity(self, in_block: int) -> None:
        dice = self._dice
        layer = [(8, dice.choice(("0", "0", "cut", "Defpoints", self._text() if self._daring else "1")))]
        kind = dice.choice(_ENTITIES)
        if kind == "LINE":
            self._put((0, kind), *layer, *self._at(), *self._at(11))
        elif kind == "TEXT":
            self._put((0, kind), *layer, *self._at(), (40, self._n()), (1, self._text()))
        elif kind in ("ARC", "CIRCLE", "ELLIPSE"):
            self._round(kind, layer)
        elif kind == "LWPOLYLINE":
            self._polyline(layer)
        elif kind == "POLYLINE":
            self._older_polyline(layer)
        elif kind == "SPLINE":
            self._spline(layer)
        elif self._blocks:
            self._insert(layer, in_block)
        if dice.random() < self._daring:
            self._put((210, self._n()), (220, self._n()), (230, self._n()))

    def _round(self, kind: str, layer: list[tuple[int, str]]) -> None:
        dice = self._dice
        self._put((0, kind), *layer, *self._at())
        if kind == "ELLIPSE":
            self._put(*self._at(11), (40, dice.choice(("0.5", "1", self._n()))))
            self._put((41, "0"), (42, dice.choice(("6.283185307", self._n()))))
        else:
            self._put((40, self._n()), (50, self._n()), (51, self._n()))

    def _older_polyline(self, layer: list[tuple[int, str]]) -> None:
        dice = self._dice
        flags = dice.choice(("1", "0", "8", "9", "16", "64", "4"))
        self._put((0, "POLYLINE"), *layer, (66, "1"), (70, flags))
        for _ in range(dice.choice((0, 1, 4, 30))):
            self._put((0, "VERTEX"), *layer, *self._at())
            self._put((42, self._bulge()), (70, dice.choice(("0", "16", "32"))))
        self._put((0, "SEQEND"))

    def _frame(self) -> None:
        """Put an outline round the rest, so that more than its absence is told."""
        self._put((0, "LWPOLYLINE"), (8, "cut"), (100, "AcDbPolyline"), (90, "4"), (70, "1"))
        for x, y in ((-60, -60), (160, -60), (160, 160), (-60, 160)):
            self._put((10, str(x)), (20, str(y)), (42, "0.1" if self._dice.random() < 0.1 else "0"))

    def _bulge(self) -> str:
        return self._dice.choice(("0", "0", "1", "-0.4142", "1e-9", "1e9", self._n()))

    def _polyline(self, layer: list[tuple[int, str]]) -> None:
        dice = self._dice
        count = dice.choice((0, 1, 2, 4, 4, 4, 40))
        told = count if dice.random() > self._daring else dice.choice((0, -1, 10**9))
        self._put((0, "LWPOLYLINE"), *layer, (100, "AcDbPolyline"), (90, str(told)), (70, dice.choice("01")))
        for _ in range(count):
            self._put(*self._at(), (42, self._bulge()))

    def _spline(self, layer: list[tuple[int, str]]) -> None:
        dice = self._dice
        degree, count = dice.choice((1, 2, 3, 3, 5, 11, 0)), dice.choice((0, 2, 4, 7, 30, 400))
        self._put(
            (0, "SPLINE"), *layer, (100, "AcDbSpline"), (70, dice.choice(("8", "11", "4"))), (71, str(degree))
        )
        self._put((72, str(count + degree + 1)), (73, str(count)), (74, "0"))
        inner = max(count - degree - 1, 0)
        knots = [0] * (degree + 1) + list(range(1, inner + 1)) + [inner + 1] * (degree + 1)
        if dice.random() < self._daring * 2:
            dice.shuffle(knots)
        self._put(*((40, str(knot)) for knot in knots))
        if dice.random() < 0.2:
            self._put(*((41, dice.choice(("1", "2", "0.5", self._n()))) for _ in range(count)))
        for _ in range(count):
            self._put(*self._at())

    def _insert(self, layer: list[tuple[int, str]], in_block: int) -> None:
        dice = self._dice
        inner = dice.randrange(self._blocks) if dice.random() < 0.1 else min(in_block, self._blocks - 1)
        self._put((0, "INSERT"), *layer, (2, f"b{inner}"), *self._at(), (41, self._n()), (42, self._n()))
        self._put((50, self._n()))
        if dice.random() < 0.2:
            rows = dice.choice(("1", "2", "100", "32767", "2147483647", self._n()))
            self._put((70, rows), (71, rows), (44, self._n()), (45, self._n()))
