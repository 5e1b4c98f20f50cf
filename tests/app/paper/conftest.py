"""Paper's tests draw no mounted picture where it is not what they test: it takes longest."""

from __future__ import annotations

import pytest

from app.paper.page import Picture
from app.paper.pdf import ready


def _no_picture(_bracket: object, box: tuple[float, float, float, float]) -> Picture:
    return Picture(b"", box)


@pytest.fixture(autouse=True)
def _painter(monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest) -> None:
    ready()
    if "mounted" not in request.node.name:
        for module in ("assembly", "drawing"):
            monkeypatch.setattr(f"app.paper.{module}.mounted_picture", _no_picture)
