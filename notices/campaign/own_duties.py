"""The days from which duties are counted, and the firm's own duties, as the lead types them."""

from datetime import date
from typing import Annotated, Literal

from pydantic import Field

from notices.campaign.scalars import Key, Part, Word

Counted = Literal["knowledge", "action", "determination", "report", "notification"]
"""The day on which the firm learned of it; on which the recall began; on which it decided that there is a defect;
of its report to the authority; on which owners were told that the remedy is there."""

Days = Annotated[int, Field(ge=0, le=400)]


class DutyDays(Part):
    """The days that the lead knows; a day that is not written is taken from ledger and register, or not known."""

    knowledge: date | None = None
    action: date | None = None
    determination: date | None = None
    report: date | None = None
    notification: date | None = None

    def typed(self) -> dict[Counted, date]:
        """Return the days that are written."""
        days: dict[Counted, date | None] = {
            "knowledge": self.knowledge,
            "action": self.action,
            "determination": self.determination,
            "report": self.report,
            "notification": self.notification,
        }
        return {name: day for name, day in days.items() if day is not None}


class OwnDuty(Part):
    """What the firm owes somebody by a contract: whom, what, *within_days* of the day *counted_from*; 0 at once."""

    to: Word
    what: Word
    within_days: Days
    working: bool = False
    counted_from: Counted = "knowledge"


class Duties(Part):
    """The days that duties count from, and the firm's own duties by a key of the lead's."""

    days: DutyDays = DutyDays()
    own: dict[Key, OwnDuty] = Field(default={})
