"""The firm's people: what they hear by telephone and mail, whom they call, and the mechanics' visits."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from random import Random
from zoneinfo import ZoneInfo

from audiences.segments import Segment
from audiences.verdicts import SAFE
from notices.cases.case import Case, Stage
from notices.cases.events import unit_stream
from notices.demo.clock import Agenda, Clock
from notices.demo.people import Person
from notices.demo.units import Stamped
from notices.work import hearing, outgoing
from notices.work.hearing import Word
from notices.work.ports import Transaction, World

LEAD, SERVICE, TELEPHONE = "Maeve Corrigan", "Donal Brehony", "Saoirse Kehoe"
DUBLIN = ZoneInfo("Europe/Dublin")
_OPENS, _CLOSES = time(8), time(18)
_SUNDAY = 6
_BY_MECHANIC = frozenset({Segment.UNRIDDEN, Segment.RIDDEN_NO_SYMPTOMS})


def moment(day: date, hour: int, minute: int = 0) -> datetime:
    """Return a moment of the issuer's day."""
    return datetime.combine(day, time(hour, minute), tzinfo=DUBLIN)


def in_office(at: datetime) -> datetime:
    """Return *at*, or the next moment at which somebody is at the telephone: Monday to Saturday, 8 to 18 h."""
    local = at.astimezone(DUBLIN)
    if local.time() >= _CLOSES or local.weekday() == _SUNDAY:
        local = datetime.combine(local.date() + timedelta(days=1), _OPENS, tzinfo=DUBLIN)
        return in_office(local)
    return max(local, datetime.combine(local.date(), _OPENS, tzinfo=DUBLIN))


@dataclass(frozen=True, kw_only=True, slots=True)
class Visit:
    """One visit of a mechanic: of which unit, on which day."""

    unit_id: str
    day: date


@dataclass(frozen=True, kw_only=True, slots=True)
class Staff:
    """Those at the firm; *references* names each unit by the code stamped on it."""

    world: World
    clock: Clock
    agenda: Agenda
    rng: Random
    references: Mapping[str, str]

    def reference(self, unit: Stamped) -> str:
        """Return the reference under which the register knows a unit."""
        return self.references[unit.stamped]

    def write(self, which: str, what: str, value: str = "", **more: str) -> None:
        """Write down what somebody heard about a unit, or did about it."""
        by, via, text = more.get("by", TELEPHONE), more.get("via", "phone"), more.get("text", "")
        word = Word(what=what, by=by, via=via, value=value, text=text, lot=more.get("lot", ""))
        hearing.hear(self.world, which, word)

    def book(self, visit: Visit) -> None:
        """Write down on which day the mechanic comes."""
        self._of_visit(visit, "visit")

    def missed(self, visit: Visit) -> None:
        """Write down that nobody was there."""
        self._of_visit(visit, "visit-missed")

    def _of_visit(self, visit: Visit, what: str) -> None:
        hearing.hear(self.world, visit.unit_id, Word(what=what, by=SERVICE, via="phone", on=visit.day))

    def refused_by_policy(self) -> list[str]:
        """Return the units whose notice a provider refused by its policy: their owners are called."""
        found = outgoing.outbox(self.world).troubles
        refused = [one for one in found if one.state == "refused" and "5.7.1" in one.why]
        return sorted({unit for one in refused for unit in one.units})

    def call(self, unit_id: str, segment: Segment, *, again_at: datetime) -> None:
        """Call an owner who could not be mailed; who is out is called once more."""
        if self.rng.random() < 0.25:  # noqa: PLR2004 - some are out
            self.write(unit_id, "call", "no-answer")
            self.agenda.add(again_at, lambda: self.spoke(unit_id, segment))
        else:
            self.spoke(unit_id, segment)

    def spoke(self, unit_id: str, segment: Segment | None = None) -> None:
        """Write down a call in which the owner said *stopped*, and how it was used."""
        self.write(unit_id, "call", "spoke")
        self.write(unit_id, "stopped")
        if segment is not None:
            self.write(unit_id, "use", segment.value)

    def call_back(self, person: Person, *, stops: bool) -> None:
        """Call somebody who said *still in use*, within the hour or when the office opens."""
        unit_id = self.reference(person.owner.units[0])

        def act() -> None:
            self.write(unit_id, "call", "spoke")
            if stops:
                self.write(unit_id, "stopped")

        self.agenda.add(in_office(self.clock.now() + timedelta(minutes=40)), act)

    def read_mail(self, person: Person, text: str = "", *, help_with: str = "") -> None:
        """Record an answer that came by mail: *stopped*, and free words where there are any."""

        def act() -> None:
            for unit in person.owner.units:
                unit_id = self.reference(unit)
                self.write(unit_id, "stopped", by=LEAD, via="mail")
                if text:
                    self.write(unit_id, "help", help_with or "reply", by=LEAD, via="mail", text=text)

        self.agenda.add(in_office(self.clock.now() + timedelta(minutes=25)), act)

    def for_mechanics(self) -> list[str]:
        """Return the units that a mechanic can repair at the door and whose owner wants that, longest waiting first."""
        with self.world.register.look() as tx:
            waiting = [row.case for row in tx.cases.all() if _waits(row.case)]
            wanted = [case for case in waiting if ("repair", "owner") not in _choices(tx, case)]
            wanted = [case for case in wanted if "repair" in {one for one, _ in _choices(tx, case)}]
        return [
            case.unit_id for case in sorted(wanted, key=lambda one: (one.changed_on or date.max, one.unit_id))
        ]

    def for_kits(self) -> list[str]:
        """Return the units whose owner wants to fit the part."""
        with self.world.register.look() as tx:
            waiting = [row.case for row in tx.cases.all() if _waits(row.case)]
            return [case.unit_id for case in waiting if ("repair", "owner") in _choices(tx, case)]


def _waits(case: Case) -> bool:
    safe = case.verdict in SAFE
    return case.stage is Stage.REMEDY_AGREED and case.segment in _BY_MECHANIC and not safe


def _choices(tx: Transaction, case: Case) -> list[tuple[str, str]]:
    """Return what the owner chose last: the remedy, and who shall fit it."""
    return list(_chosen(tx, case))[-1:]


def _chosen(tx: Transaction, case: Case) -> Iterator[tuple[str, str]]:
    for event in tx.events.stream(unit_stream(case.unit_id)):
        if event.kind == "remedy_chosen":
            yield str(event.payload["remedy"]), str(event.payload.get("by") or "")
