"""What is due: for a case, for a day, and the case as the register keeps it."""

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
class Step:
    """One step that is due: for which unit, what, by which channel, since which day, why, and whom it concerns.

    *to* holds the usable addresses or numbers of the keeper for that channel.
    """

    unit_id: str
    step: str
    channel: str
    on: date
    why: str
    owner: str
    to: tuple[str, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Agenda:
    """The steps due by a day, the most urgent first; *later* counts those after it, from *next_on* on."""

    steps: tuple[Step, ...]
    later: int
    next_on: date | None


@dataclass(frozen=True, kw_only=True, slots=True)
class CaseRow:
    """A case with what is due for it: one row of the projection."""

    case: Case
    due: Due | None = None
