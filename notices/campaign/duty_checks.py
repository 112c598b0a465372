"""Whether the firm's own duties can be counted."""

from collections.abc import Iterator

from audiences.findings import Finding, Severity
from notices.campaign.looking import Look

_KNOWN_OTHERWISE = frozenset({"knowledge", "action"})  # the ledger and the register have these


def counted(look: Look) -> Iterator[Finding]:
    """Name each duty of the firm's own that is counted from a day which nobody has written."""
    duties = look.campaign.duties
    if duties is None:
        return
    known = _KNOWN_OTHERWISE | duties.days.typed().keys()
    for key, duty in duties.own.items():
        if duty.counted_from not in known:
            yield Finding(
                code="duty-day-missing",
                **look.at(f"duties.own.{key}.counted_from"),
                message=f"the day of the {duty.counted_from} is not written, so nobody knows when this is due",
                mend=f"write {duty.counted_from}: and the day under duties.days, once it is known",
                severity=Severity.CONSIDER,
            )


DUTY_CHECKS = (counted,)
