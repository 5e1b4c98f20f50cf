"""Findings about threads in bosses: how much a bolt engages, and whether it stands on the end."""

from __future__ import annotations

from collections.abc import Iterator

from geometry.bolt_tables import UnknownBoltError, bolt_size
from geometry.finding import Finding
from geometry.finding_words import found
from geometry.fixing import AtBoss
from geometry.survey import Survey
from geometry.thread_engagement import ENGAGED_OVER_D, bottoms, engaged_mm


def thread_findings(survey: Survey) -> Iterator[Finding]:
    """Yield what is wrong with bolts in the threads of bosses."""
    casing = survey.bracket.casing
    if casing is None:
        return
    for place in survey.heads:
        bolt = survey.bracket.bolt(place.bolt)
        if not isinstance(bolt.joins, AtBoss) or not casing.has_boss(bolt.joins.boss):
            continue  # of two bolts with one name the placed one may be the other
        boss = casing.boss(bolt.joins.boss)
        try:
            size = bolt_size(bolt.size)
        except UnknownBoltError:
            continue
        where, clamp = f"bolt {bolt.name}", place.clamp_length_mm
        engaged = engaged_mm(boss, bolt, size, clamp)
        usual = ENGAGED_OVER_D[boss.metal] * size.diameter_mm
        if engaged is None or boss.depth_mm is None:
            yield found("boss-depth-blank", f"boss {boss.name}", bolt=bolt.name)
        elif bolt.length_mm is not None and bottoms(boss, bolt, clamp):
            yield found(
                "bolt-bottoms", where, length_mm=bolt.length_mm, clamp_mm=clamp, depth_mm=boss.depth_mm,
                boss=boss.name,
            )  # fmt: skip
        elif bolt.length_mm is not None and engaged < usual - 1e-9:
            yield found(
                "bolt-engages-little", where, engaged_mm=engaged, usual_mm=usual, boss=boss.name,
                metal=boss.metal,
            )  # fmt: skip
        elif bolt.length_mm is None and boss.depth_mm < usual - 1e-9:
            # whatever bolt is bought, it engages no more
            yield found(
                "boss-shallow", f"boss {boss.name}", depth_mm=boss.depth_mm, usual_mm=usual,
                metal=boss.metal, bolt=bolt.name,
            )  # fmt: skip
