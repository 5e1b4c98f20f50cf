"""Everything worth saying about a bracket before it is analysed, all at once."""

from __future__ import annotations

from geometry.bracket import Bracket
from geometry.finding import Finding, worst_first
from geometry.finding_words import fewer
from geometry.findings_bolt_faces import bolt_face_findings
from geometry.findings_bolts import bolt_findings
from geometry.findings_casing import casing_findings
from geometry.findings_fatigue import fatigue_findings
from geometry.findings_holes import hole_findings
from geometry.findings_loads import load_findings
from geometry.findings_magnitudes import magnitude_findings
from geometry.findings_materials import material_findings
from geometry.findings_overlap import overlap_findings
from geometry.findings_shape import shape_findings
from geometry.findings_threads import thread_findings
from geometry.findings_weld_bolts import weld_bolt_findings
from geometry.findings_welds import weld_findings
from geometry.survey import survey


def findings_of(bracket: Bracket) -> tuple[Finding, ...]:
    """Return every finding about a bracket, worst first, each once; it never stops at the first one."""
    known = survey(bracket)
    return worst_first(
        fewer(
            (
                *shape_findings(known),
                *casing_findings(known),
                *bolt_findings(known),
                *bolt_face_findings(known),
                *hole_findings(known),
                *overlap_findings(known),
                *load_findings(bracket),
                *fatigue_findings(bracket),
                *thread_findings(known),
                *weld_findings(known),
                *weld_bolt_findings(known),
                *magnitude_findings(known),
                *material_findings(bracket),
            ),
            "bracket",
        )
    )


def can_be_analysed(findings: tuple[Finding, ...]) -> bool:
    """Return whether nothing found keeps the bracket from being analysed at all."""
    return all(finding.severity != "stop" for finding in findings)
