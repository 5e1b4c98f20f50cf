"""What was tried and what came of it, for the table."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass
class Tried:
    """One fault, in one place, so many times."""

    fault: str
    where: str
    times: int = 0
    wrong: list[str] = field(default_factory=list)
    """A sentence for each time something was lost, broken or unsaid."""
    seen: str = ""
    """What was said or measured, where that is worth a line."""

    def note(self, wrong: str, when: str = "") -> None:
        """Count one more time; empty if all was as it should be."""
        self.times += 1
        if wrong:
            self.wrong.append(f"{when}: {wrong}" if when else wrong)

    @property
    def row(self) -> str:
        """Return the line of the table."""
        result = "; ".join(self.wrong[:3]) if self.wrong else "nothing lost"
        return f"| {self.fault} | {self.where} | {self.times} | {result} | {self.seen} |"
