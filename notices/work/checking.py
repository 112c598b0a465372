"""What is wrong or missing in the folder's draft, in one list."""

from collections.abc import Sequence

from audiences.findings import Finding, in_reading_order, must_mend
from notices.campaign.needs import lacking
from notices.work.ports import World
from notices.work.revisions import draft


def check(world: World) -> list[Finding]:
    """Return every finding of the draft, and what it still lacks before a notice can be composed, in reading order.

    No clock is read, and the register is not opened.
    """
    found = draft(world)
    findings = set(found.findings)
    if found.revision is not None:
        findings |= set(lacking(found.revision.campaign, "proofs", found.lines))
    return in_reading_order(findings)


def holds_back(findings: Sequence[Finding]) -> bool:
    """Say whether something must be mended."""
    return bool(must_mend(findings))


def summary(findings: Sequence[Finding]) -> str:
    """Return one sentence on *findings*: how many must be mended, how many considered."""
    mend = len(must_mend(findings))
    if not findings:
        return "Nothing to mend."
    return f"{mend} to mend, {len(findings) - mend} to consider."
