"""Whether what a campaign says holds together: one function a question, each yields findings."""

from collections.abc import Callable, Iterator, Mapping

from audiences.code_lists import CodeList
from audiences.findings import Finding, in_reading_order
from notices.campaign.code_checks import CODE_CHECKS
from notices.campaign.contact_checks import CONTACT_CHECKS
from notices.campaign.duty_checks import DUTY_CHECKS
from notices.campaign.incident_checks import INCIDENT_CHECKS
from notices.campaign.layout_checks import LAYOUT_CHECKS
from notices.campaign.looking import Look
from notices.campaign.models import Campaign
from notices.campaign.remedy_checks import REMEDY_CHECKS
from notices.campaign.rule_checks import RULE_CHECKS
from notices.campaign.rule_reach import REACH_CHECKS
from notices.campaign.text_checks import TEXT_CHECKS
from notices.campaign.warning_checks import WARNING_CHECKS

Check = Callable[[Look], Iterator[Finding]]

CHECKS: tuple[Check, ...] = (
    *WARNING_CHECKS,
    *CONTACT_CHECKS,
    *LAYOUT_CHECKS,
    *CODE_CHECKS,
    *RULE_CHECKS,
    *REACH_CHECKS,
    *TEXT_CHECKS,
    *REMEDY_CHECKS,
    *INCIDENT_CHECKS,
    *DUTY_CHECKS,
)


def check(
    campaign: Campaign,
    lines: Mapping[str, int],
    pictures: Mapping[str, bytes],
    lists: Mapping[str, CodeList] | None = None,
) -> Iterator[Finding]:
    """Yield every finding of every check, in the order of the file; *pictures* and *lists* by name.

    No clock is read: the day of the next word is held against the revision's day.
    """
    look = Look(campaign=campaign, lines=lines, pictures=pictures, lists=lists or {})
    yield from in_reading_order(finding for one in CHECKS for finding in one(look))
