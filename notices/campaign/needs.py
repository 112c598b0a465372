"""What must stand in the campaign before something can be done with it."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Literal

from audiences.findings import Finding, Severity
from audiences.segments import Segment
from notices.campaign import needed
from notices.campaign.looking import FILE, line_of
from notices.campaign.models import Campaign

Purpose = Literal["proofs", "bulletin", "serve", "stop-sale"]
NEVER_OVERRULED_CODES = frozenset({"hazard-missing", "stop-missing"})
"""Findings that no signer and no reason can overrule: without hazard and stop it is no warning."""


def lacking(campaign: Campaign, purpose: Purpose, lines: Mapping[str, int]) -> Iterator[Finding]:
    """Yield what is not there and is needed for *purpose*; a sale can be stopped with nothing but two names."""
    for need in _needs(campaign, purpose):
        code = need.code
        if not need.has(campaign):
            yield Finding(
                code=code,
                file=FILE,
                line=line_of(need.path, lines),
                path=need.path,
                message=need.message,
                mend=need.mend,
                severity=need.severity,
                source=need.source,
            )
    if purpose == "proofs" and campaign.remedies is not None:
        yield from _promises(campaign, lines)


def _needs(campaign: Campaign, purpose: Purpose) -> tuple[needed.Need, ...]:
    warning = campaign.remedies is None
    if purpose == "proofs":
        return (
            *needed.ANY_NOTICE,
            *(needed.STOP if warning else needed.RECALL),
            *_clearing(campaign, warning=warning),
        )
    if purpose == "bulletin":
        return (*needed.HAZARD_AND_STOP, *needed.BULLETIN)
    if purpose == "serve":
        return (*needed.HAZARD_AND_STOP, *needed.SERVE)
    return ()


def _clearing(campaign: Campaign, *, warning: bool) -> tuple[needed.Need, ...]:
    """Return what is needed where a unit can be cleared; no warning waits for it, for it goes to no cleared unit."""
    if not (campaign.affected and campaign.otherwise == "cleared"):
        return ()
    severity = Severity.CONSIDER if warning else Severity.MUST_MEND
    return tuple(replace(need, severity=severity) for need in needed.CLEARING)


def _promises(campaign: Campaign, lines: Mapping[str, int]) -> Iterator[Finding]:
    """Hold that each owner who says how the unit was used is promised something, and each remedy says what."""
    remedies = campaign.remedies or {}
    known = [segment for segment in Segment if segment is not Segment.UNKNOWN]
    for segment in known:
        if not any(remedy.for_segment(segment) for remedy in remedies.values()):
            yield Finding(
                code="remedy-for-nobody",
                file=FILE,
                line=line_of("remedies", lines),
                path="remedies",
                message=f"no remedy serves the segment {segment}",
                mend=f"write {segment}: or all: below one remedy, with its promise",
                source="Regulation (EU) 2023/988, article 37",
            )
    for key, remedy in remedies.items():
        for name in ("all", *known):
            part = getattr(remedy, name)
            path = f"remedies.{key}.{name}"
            if part is not None and part.promise is None:
                yield Finding(
                    code="promise-missing",
                    file=FILE,
                    line=line_of(path, lines),
                    path=f"{path}.promise",
                    message="this remedy does not say what the owner gets",
                    mend="write promise: and one plain sentence",
                )
        if remedy.label is None:
            yield Finding(
                code="remedy-label-missing",
                file=FILE,
                line=line_of(f"remedies.{key}", lines),
                path=f"remedies.{key}.label",
                message="the owner chooses among remedies, and this one has no name",
                mend="write label: and a word or two",
            )
