"""What the file leaves unsaid of bosses and bolts, a sentence each."""

from __future__ import annotations

from geometry.bracket import Bracket
from geometry.fixing import AtBoss


def unused_bosses(bracket: Bracket) -> tuple[str, ...]:
    """Return the names of the casing's bosses that no bolt goes into."""
    if bracket.casing is None:
        return ()
    used = {bolt.joins.boss for bolt in bracket.bolts if isinstance(bolt.joins, AtBoss)}
    return tuple(boss.name for boss in bracket.casing.bosses if boss.name not in used)


def fasteners_wanting(bracket: Bracket) -> tuple[str, ...]:
    """Return a sentence for bolts without grade, without torque or preload, and without locking."""
    wanting = (
        ("grade", [b.name for b in bracket.bolts if not b.grade]),
        ("torque and preload", [b.name for b in bracket.bolts if not (b.tightening_nm or b.preload_n)]),
    )
    told = tuple(f"{_bolts(names)} without {what}" for what, names in wanting if names)
    return told + locking_wanting(bracket)


def locking_wanting(bracket: Bracket) -> tuple[str, ...]:
    """Return a sentence for bolts of which nobody says how they are locked; none if there are none."""
    names = [b.name for b in bracket.bolts if not (b.locking or "").strip()]
    return (f"{_bolts(names)} without locking",) if names else ()


def _bolts(names: list[str]) -> str:
    return f"bolt {names[0]} is" if len(names) == 1 else f"bolts {', '.join(names)} are"
