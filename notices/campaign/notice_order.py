"""Findings in the order in which an owner reads the notice, so that a check reads as a list of what is to do."""

from collections.abc import Iterable

from audiences.findings import Finding, in_reading_order
from notices.campaign.looking import FILE
from notices.campaign.shape import lies_in

# The parts of campaign.yaml from the subject line to the last word; what no owner reads comes after it.
_READ = (
    "subjects",
    "preheaders",
    "warning_headline",
    "markets",
    "corrections",
    "hazard.signal",
    "now.headline",
    "hazard",
    "product",
    "code",
    "affected",
    "otherwise",
    "reworked",
    "now",
    "use",
    "before_remedy",
    "next_word",
    "remedies",
    "free",
    "answer_within",
    "meanwhile",
    "parts",
    "cautions",
    "confirm",
    "ledger",
    "incidents",
    "revision",
    "contacts",
    "hours",
    "no_longer",
    "share",
    "issuer",
    "languages",
)


def in_notice_order(findings: Iterable[Finding]) -> list[Finding]:
    """Sort by the part of the notice; first what keeps the file from being read, last the other files."""
    return sorted(in_reading_order(findings), key=_place)


def _place(finding: Finding) -> tuple[bool, int]:
    if finding.file != FILE:
        return True, 0
    found = [at for at, part in enumerate(_READ) if lies_in(finding.path, part)]
    if not finding.path:
        return False, -1
    return False, max(found, key=lambda at: len(_READ[at]), default=len(_READ))
