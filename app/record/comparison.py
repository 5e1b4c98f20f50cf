"""A builder's claim against what this machine computes now, under the certifier's own limits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from app.record.as_built import AsBuilt, as_built
from app.record.fasteners import fasteners_wanting, unused_bosses
from app.record.loosenings import Weighed, loosenings_of, weighed
from app.record.profile import Profile, under
from app.record.record import Record
from app.wording.figures import figure
from app.wording.file_verdict import verdict_on_file
from app.wording.verdict_words import limit_words, verdict_in_ink, verdict_words
from geometry.bracket import Bracket
from geometry.finding import Finding
from geometry.loads import Claim
from solver.results import QuickAnswer, Results, Verdict

ClaimState = Literal["none", "same inputs", "stale"]


@dataclass(frozen=True)
class Judgements:
    """Everything that was computed for one record."""

    under_profile: Results | None = None
    under_file: Results | None = None
    """Under the builder's own limits and loads; None while they are the same or not computed yet."""
    built: Results | None = None
    """Of the bracket as built, under the profile; None while nothing differs or not computed yet."""
    before: QuickAnswer | None = None
    quick: Mapping[int, QuickAnswer | None] = field(default_factory=dict)
    """Quick answers by the place of the loosening they weigh."""
    trouble: str = ""
    """Why there are no results, in a sentence."""
    file_findings: tuple[Finding, ...] = ()
    """About the bracket file alone."""

    @property
    def verdict(self) -> Verdict:
        """Return the verdict under the profile that may be written."""
        return verdict_on_file(self.under_profile, self.file_findings)


@dataclass(frozen=True)
class Comparison:
    """What a certifier reads first, in words."""

    claim: Claim | None
    claim_state: ClaimState
    verdict: Verdict
    verdict_line: str
    """The verdict under the certifier's own limits, with its couple, source and what it holds to."""
    claim_lines: tuple[str, ...]
    under_builder: str
    """The verdict under the builder's own limits; empty unless it differs."""
    reasons: tuple[str, ...]
    loosenings: tuple[Weighed, ...]
    """Heaviest first."""
    unused_bosses: tuple[str, ...]
    fasteners: tuple[str, ...]
    as_built: AsBuilt
    built_line: str
    """The verdict of the bracket as built; empty if nothing measured differs."""
    to_look_at: tuple[str, ...]
    """What cannot be computed."""


def compare(bracket: Bracket, record: Record, profile: Profile, judged: Judgements) -> Comparison:
    """Return the comparison; whatever is not computed yet is said to be so."""
    state: ClaimState = "none"
    if bracket.claim is not None:
        state = "same inputs" if bracket.claim.hash == bracket.input_hash() else "stale"
    now = judged.under_profile
    built = as_built(bracket, record)
    # like with like: the claim was made under the file's own limits
    own = judged.under_file if differs_under(bracket, profile) else now
    return Comparison(
        claim=bracket.claim,
        claim_state=state,
        verdict=judged.verdict,
        verdict_line=_verdict_line(judged, profile),
        claim_lines=_claim_lines(bracket.claim, state, own),
        under_builder=_under_builder(bracket, profile, judged),
        reasons=() if now is None else now.reasons,
        loosenings=weighed(loosenings_of(bracket), judged.before, judged.quick, now),
        unused_bosses=unused_bosses(bracket),
        fasteners=fasteners_wanting(bracket),
        as_built=built,
        built_line=_built_line(built, judged.built),
        to_look_at=to_look_at(bracket, () if now is None else now.not_computed),
    )


def differs_under(bracket: Bracket, profile: Profile) -> bool:
    """Return whether the profile asks for something else than the file itself."""
    return under(bracket, profile).input_hash() != bracket.input_hash()


def to_look_at(bracket: Bracket, not_computed: Sequence[str]) -> tuple[str, ...]:
    """Return what no figure settles, a phrase each: first what is peculiar to this bracket."""
    found = []
    if bracket.dash_bar is not None:
        ends = " and ".join(end.kind for end in bracket.dash_bar.ends)
        found.append(f"the ends of {bracket.dash_bar.name} ({ends}): what they end in, and the welds")
        for stay in bracket.dash_bar.stays:
            at = f"the stay of {bracket.dash_bar.name} at {stay.station_mm:g} mm"
            found.append(f"{at}: that it is there, and what it stands on")
    found += [f"anchor {anchor.name}: {anchor.word}" for anchor in bracket.anchors]
    if bracket.column.held_by is not None and bracket.column.held_by != "nothing":
        found.append("the column's bearings or mount: whether they hold as the file says")
    if not bracket.shaft_joints and bracket.installation.shaft is None:
        found.append("shaft joints: the file lists none")
    return (*found, *not_computed)


def _verdict_line(judged: Judgements, profile: Profile) -> str:
    now = judged.under_profile
    if now is None:
        return judged.trouble or f"Not computed yet under {profile.name}"
    return (
        f"{judged.verdict.upper()} {verdict_words(now)}; judged under {profile.name}{_allows_more(profile)}"
    )


def _allows_more(profile: Profile) -> str:
    """Return the limits and loads in which a profile is looser than the program's defaults; empty if in none.

    It is told with every verdict, for whoever only reads `pass` takes it for the usual one.
    """
    looser = [
        f"{limit_words(name, value)} instead of {limit_words(name, usual, bare=True)}"
        for name, (value, usual) in profile.limits.looser().items()
    ]
    looser += [
        f"{words} {value:.9g} instead of {usual:.9g}"
        for words, (value, usual) in profile.factors.looser().items()
    ]
    return f", which is LOOSER than the program's defaults: {', '.join(looser)}" if looser else ""


def _claim_lines(claim: Claim | None, state: ClaimState, now: Results | None) -> tuple[str, ...]:
    if claim is None:
        return ("The file holds no claim.",)
    held = "" if claim.holds_to_nm is None else f", holding to {figure(claim.holds_to_nm)} N.m"
    ended = f", then {claim.ended_by}" if claim.ended_by and claim.holds_to_nm is not None else ""
    said = f"Claimed on {claim.date} with version {claim.version}: {claim.verdict}{held}{ended}."
    if state == "stale":
        return (said, "The claim is stale: the inputs have changed since it was made.")
    lines = [said, "The claim was made for the same inputs."]
    if now is None:
        return tuple(lines)
    if verdict_in_ink(now) != claim.verdict:
        lines.append(f"Then {claim.verdict}, now {verdict_in_ink(now)} under the same limits.")
    if claim.holds_to_nm is not None and now.holds_to_nm is not None:
        then, here = figure(claim.holds_to_nm), figure(now.holds_to_nm)
        lines.append(f"Holds to: then {then} N.m, now {here} N.m, both under the file's own limits.")
    return tuple(lines)


def _under_builder(bracket: Bracket, profile: Profile, judged: Judgements) -> str:
    own = judged.under_file
    if own is None or not differs_under(bracket, profile):
        return ""
    if verdict_in_ink(own) == judged.verdict:
        return ""
    changed = ", ".join(f"{what}" for what in _other_than(bracket, profile))
    return f"Under the builder's own limits: {verdict_in_ink(own).upper()} {verdict_words(own)} ({changed})"


def _other_than(bracket: Bracket, profile: Profile) -> list[str]:
    """Return in words where builder and certifier ask for different things."""
    now = under(bracket, profile)
    fields = {
        "movement_mm": "movement", "turn_deg": "turn or lean", "pull_movement_mm": "movement with a pull",
        "yield_factor": "yield factor", "slip_factor": "slip factor", "friction_share": "friction share",
        "marginal_used": "marginal from",
    }  # fmt: skip
    found = [
        f"{words} {getattr(bracket.limits, name):g} where {profile.name} has {getattr(now.limits, name):g}"
        for name, words in fields.items()
        if getattr(bracket.limits, name) != getattr(now.limits, name)
    ]
    for name, words in (("couple_factor", "factor"), ("pull_n", "pull"), ("weight_g", "weight x")):
        before, after = getattr(bracket.loads, name), getattr(now.loads, name)
        if before != after:
            found.append(f"{words} {before:g} where {profile.name} has {after:g}")
    for words, before, after in (
        ("full reversals", bracket.loads.fatigue.reversals, now.loads.fatigue.reversals),
        ("couple larger by at most", bracket.loads.couple_may_be_more, now.loads.couple_may_be_more),
    ):
        if before != after:
            found.append(f"{words} {before:g} where {profile.name} has {after:g}")
    return found


def _built_line(built: AsBuilt, results: Results | None) -> str:
    if not built.differs:
        return ""
    if results is None:
        return "As built: not judged yet"
    verdict = verdict_in_ink(results)
    why = "" if verdict == "pass" else f"; because: {'; '.join(results.reasons)}" if results.reasons else ""
    return f"As built: {verdict.upper()} {verdict_words(results)}{why}"
