"""The order in which a notice is let out, and how each step stands: done or overruled, by whom and when.

Owners come after those before them, and no step holds back a stop warning: what is left out is said by name.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, tzinfo
from typing import Literal

from notices.cases.events import Event

State = Literal["open", "done", "overruled", "to be done again"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Step:
    """One step: its key, what is to be done; *daily* where yesterday's word is worth nothing."""

    key: str
    what: str
    before_owners: bool = True
    daily: bool = False


STEPS: tuple[Step, ...] = (
    Step(key="sale", what="every place has stopped selling and holds its stock"),
    Step(key="staff", what="staff know, and know what to answer"),
    Step(key="authorities", what="authorities, insurer and supplier are told"),
    Step(key="page", what="the public page loads on a telephone outside the house network"),
    Step(key="certificate", what="the certificate of the public address is good"),
    Step(key="mailbox", what="a test message to the issuer's address has arrived", daily=True),
    Step(key="phone", what="each telephone number was called and heard today", daily=True),
    Step(key="line", what="somebody answers the telephone for the next four hours", daily=True),
    Step(key="backup", what="a backup was made today", daily=True),
    Step(key="shops", what="the shops are told", before_owners=False),
    Step(key="statement", what="the public statement is out", before_owners=False),
)
"""Stop first, then those who must answer, then the ways by which owners answer; owners; then shops and public.

Common practice, no source.
"""


@dataclass(frozen=True, kw_only=True, slots=True)
class Standing:
    """How a step stands: *by* and *on* of the last word, *text* the id of its reason; empty while there is none."""

    step: Step
    state: State
    by: str = ""
    on: date | None = None
    text: str = ""

    @property
    def settled(self) -> bool:
        """Say whether nobody waits for it."""
        return self.state in {"done", "overruled"}


def standings(
    events: Iterable[Event], *, today: date, zone: tzinfo, backup: date | None
) -> tuple[Standing, ...]:
    """Return how each step stands on *today*, by the campaign's stream; *backup* is the day of the last one."""
    said = {
        str(event.payload["step"]): event
        for event in events
        if event.kind in {"release_step_done", "release_step_overruled"}
    }
    return tuple(_standing(step, said.get(step.key), today, zone, backup) for step in STEPS)


def _standing(step: Step, event: Event | None, today: date, zone: tzinfo, backup: date | None) -> Standing:
    if step.key == "backup" and backup == today:
        return Standing(step=step, state="done", by="notices backup", on=backup)
    if event is None:
        return Standing(step=step, state="open")
    on = event.at.astimezone(zone).date()
    state: State = "overruled" if event.kind == "release_step_overruled" else "done"
    if step.daily and on != today:
        state = "to be done again"
    return Standing(step=step, state=state, by=event.actor, on=on, text=str(event.payload.get("text", "")))


def open_before_owners(found: Iterable[Standing]) -> Iterator[Standing]:
    """Yield what is neither done nor overruled and comes before owners."""
    return (one for one in found if one.step.before_owners and not one.settled)
