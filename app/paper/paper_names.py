"""What sizes of paper and the sheets printed on it are called. No Qt."""

from __future__ import annotations

from typing import Literal

PaperName = Literal["A4", "A3", "Letter"]
ReportPaper = Literal["A4", "Letter"]
"""What a report is laid out for."""
SheetName = Literal["measuring", "template", "drawing", "assembly", "proof"]
"""For the workshop and the proof in the car."""
LessonSheet = Literal["handout", "questions", "answers"]
"""For the class."""
