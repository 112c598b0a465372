"""What is wrong or missing in the folder's draft, in one list."""

from collections.abc import Sequence
from dataclasses import dataclass

from audiences.findings import Finding, Severity, must_mend
from notices.campaign.needs import lacking
from notices.campaign.notice_order import in_notice_order
from notices.wording import law_checks
from notices.wording.ease import Ease, eases
from notices.wording.law_checks import Asked
from notices.wording.passages import Reading
from notices.work.overruling import weighed_up
from notices.work.ports import World
from notices.work.revisions import Draft, draft
from notices.work.weighing import Weighed, weighed


@dataclass(frozen=True, kw_only=True, slots=True)
class Checked:
    """The draft, everything wrong with it, what it makes of the units on the lists, and how easy its notices read."""

    draft: Draft
    findings: tuple[Finding, ...]
    weighed: Weighed | None
    eases: tuple[Ease, ...] = ()


def check(world: World) -> Checked:
    """Find what is wrong with the draft, and what it still lacks before a notice can be composed.

    The findings stand in the order in which an owner reads the notice, as a list of what is still to do. No clock is
    read. Before a list has been imported the register is opened only where a finding may have been overruled.
    """
    found = draft(world)
    findings = set(found.findings)
    if found.revision is not None:
        findings |= set(lacking(found.revision.campaign, "proofs", found.lines))
    units = weighed(world, found)
    if units is not None:
        findings |= set(units.findings)
    return Checked(
        draft=found,
        findings=tuple(in_notice_order(weighed_up(world, found, findings))),
        weighed=units,
        eases=_eases(found),
    )


def asked_by(world: World, found: Draft, name: str) -> tuple[Asked, ...]:
    """Return what the law of a market asks of the draft, by the market's key or the table's; ``all`` for every one."""
    if found.revision is None:
        return ()
    reading = Reading(
        campaign=found.revision.campaign,
        lines=found.lines,
        translations=found.revision.translations,
        laws=world.laws,
    )
    every = law_checks.asked(reading, everywhere=True)
    return tuple(one for one in every if name in {"all", one.market, one.table.key})


def _eases(found: Draft) -> tuple[Ease, ...]:
    if found.revision is None:
        return ()
    campaign, translations = found.revision.campaign, found.revision.translations
    return eases(Reading(campaign=campaign, lines=found.lines, translations=translations))


def holds_back(findings: Sequence[Finding]) -> bool:
    """Say whether something must be mended."""
    return bool(must_mend(findings))


def summary(findings: Sequence[Finding]) -> str:
    """Return one sentence on *findings*: how many must be mended, how many considered, and are overruled."""
    mend = len(must_mend(findings))
    overruled = sum(one.severity is Severity.OVERRULED for one in findings)
    if not findings:
        return "Nothing to mend."
    rest = f", {overruled} overruled" if overruled else ""
    return f"{mend} to mend, {len(findings) - mend - overruled} to consider{rest}."
