"""Each reason why a PDF gives no bracket has a finding of its own."""

from __future__ import annotations

from pathlib import Path

import pytest

from app.report import attached


@pytest.mark.parametrize(
    ("answer", "code"),
    [
        ("locked", "pdf-locked"),
        ("damaged", "pdf-damaged"),
        ("too big", "pdf-too-big"),
        ("none", "pdf-without-bracket"),
    ],
)
def test_reason_and_finding(tmp_path: Path, answer: str, code: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(attached, "_taken_apart", lambda _content: answer)
    path = tmp_path / "x.pdf"
    path.write_bytes(b"%PDF-1.4\n")
    reading = attached.read_any(path)
    assert reading.bracket is None
    assert [(f.code, f.severity) for f in reading.findings] == [(code, "stop")]
    assert "x.pdf" in reading.sentences[0]
