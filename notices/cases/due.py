"""What is due next for a case, and the case as the register keeps it."""

from dataclasses import dataclass
from datetime import date

from notices.cases.case import Case


@dataclass(frozen=True, kw_only=True, slots=True)
class Due:
    """The next step: its name, by which channel, on which day, and why."""

    step: str
    channel: str
    on: date
    why: str


@dataclass(frozen=True, kw_only=True, slots=True)
class CaseRow:
    """A case with what is due for it: one row of the projection."""

    case: Case
    due: Due | None = None
