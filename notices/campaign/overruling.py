"""Which findings a named person may overrule with a reason, and to which words an overruling is bound."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from audiences import canonical
from audiences.findings import Finding, Severity
from notices.campaign.revisions import Revision
from notices.campaign.texts import localise

JUDGEMENTS: Mapping[str, str] = {
    "element-missing": "another passage may say it, or it cannot be had in time: whether the law is met is judged",
    "expression-forbidden": "a false alarm: the words mean something else in this passage",
    "free-missing": "another passage may say that it costs nothing",
    "next-word-too-late": "seven days are common practice, not law",
    "translation-number": "a language may say a number in words, or count the hours otherwise",
    "selling-text": "a false alarm: the words mean something else in this passage",
    "owner-pays": "a false alarm: the words put no cost on the owner in this passage",
    "refund-below-price": "a false alarm: the words take nothing from the price in this passage",
    "owner-before-mechanic": "what an owner can do easily and safely is judged by the work: article 37(3)",
}
"""The findings that are judgements about words and law, each with why somebody may judge otherwise.

All else is how things are: a file that cannot be read, a sentence without its value, a picture that is not there. No
reason mends that. Nor is there one for a warning without hazard or stop (`needs.NEVER_OVERRULED_CODES`).
"""

_VITAL = (["hazard"], ["now"])  # an element of the law that is missing there is never overruled

_TRANSLATION = re.compile(r"translations/(.+)\.po")
_STEP = re.compile(r"[^.\[\]]+")


@dataclass(frozen=True, kw_only=True, slots=True)
class Overruling:
    """One person's word that a finding holds nothing back, bound to it and to its passage by *bound* (SHA-256)."""

    bound: str
    by: str
    reason: str


def may_be_overruled(finding: Finding) -> bool:
    """Say whether a finding that must be mended is a judgement that a person may overrule."""
    if finding.code == "element-missing" and _STEP.findall(finding.path)[:1] in _VITAL:
        return False
    return finding.severity is not Severity.CONSIDER and finding.code in JUDGEMENTS


def bound(finding: Finding, revision: Revision) -> str:
    """Return what an overruling of *finding* is bound to: what it says, where, and what stands there now."""
    return canonical.digest(
        [finding.code, finding.file, finding.path, finding.message, _passage(finding, revision)]
    )


def with_overrulings(
    findings: Iterable[Finding], revision: Revision, overrulings: Mapping[str, Overruling]
) -> tuple[Finding, ...]:
    """Return the findings, those overruled marked so; a word that has changed since has its finding back."""
    return tuple(_marked(one, revision, overrulings) for one in findings)


def _marked(finding: Finding, revision: Revision, overrulings: Mapping[str, Overruling]) -> Finding:
    if not overrulings or not may_be_overruled(finding):
        return finding
    found = overrulings.get(bound(finding, revision))
    if found is None:
        return finding
    return replace(finding, severity=Severity.OVERRULED, overruled=f"{found.by}: {found.reason}")


def _passage(finding: Finding, revision: Revision) -> object:
    """Return what stands at a finding's path, in the language of its file; the nearest part around it, else."""
    spoken = _TRANSLATION.fullmatch(finding.file)
    translation = revision.translations.get(spoken[1], {}) if spoken else {}
    campaign = localise(revision.campaign, translation) if spoken else revision.campaign
    held: object = campaign.model_dump(mode="json", by_alias=True, exclude_none=True)
    for step in _STEP.findall(finding.path):
        if isinstance(held, dict) and step in held:
            held = held[step]
        elif isinstance(held, list) and step.isdecimal() and int(step) < len(held):
            held = held[int(step)]
        else:
            break
    return held
