"""The first repairs: visits booked, kits sent, work done, and each owner's own word that it is."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from notices.demo.people import Person
from notices.demo.staff import SERVICE, Visit, moment
from notices.demo.week import Week

_DAYS = (date(2026, 3, 6), date(2026, 3, 7), date(2026, 3, 9))
_MECHANIC = "Eoghan Tallis"
_LOT = "K1"
_KITS = 4
_LEAST, _MOST = 18, 22  # cases that close as fixed by the evening of 9 March
# Of the visits, one finds nobody at home, one owner is not sure of the wrench, and some have said nothing yet.
_MISSED, _NOT_SURE, _UNCONFIRMED = 1, 1, 5


@dataclass(frozen=True, kw_only=True, slots=True)
class Repairs:
    """What follows the choice of a repair; *people* are those whom mail reaches."""

    week: Week
    people: list[Person]

    def book(self) -> tuple[int, int]:
        """Book the first visits and send the first kits; return how many of each."""
        staff = self.week.staff
        kits = staff.for_kits()[:_KITS]
        for unit_id in kits:
            staff.write(unit_id, "parts", "QL-204, QL-011, torque wrench, spanner", lot=_LOT, by=SERVICE)
            self._confirm_at(unit_id, moment(date(2026, 3, 8), 15, 20), by="owner", sure=True)
        confirming = self.week.rng.randint(_LEAST, _MOST) - len(kits)
        waiting = staff.for_mechanics()[: _MISSED + _NOT_SURE + confirming + _UNCONFIRMED]
        for place, unit_id in enumerate(waiting):
            visit = Visit(unit_id=unit_id, day=_DAYS[place % len(_DAYS)])
            staff.book(visit)
            self._visit(visit, place, confirms=place < _MISSED + _NOT_SURE + confirming)
        return len(waiting), len(kits)

    def fixed(self) -> int:
        """Return how many cases stand as fixed."""
        with self.week.staff.world.register.look() as tx:
            return sum(row.case.ending == "fixed" for row in tx.cases.all())

    def _visit(self, visit: Visit, place: int, *, confirms: bool) -> None:
        staff, agenda = self.week.staff, self.week.agenda
        at = moment(visit.day, 9 + place % 6, 10 * (place % 5))
        if place < _MISSED:
            agenda.add(at, lambda: staff.missed(visit))
            return
        agenda.add(at, lambda: staff.write(visit.unit_id, "done", _LOT, by=_MECHANIC, via="counter"))
        if confirms:
            sure = place >= _MISSED + _NOT_SURE
            self._confirm_at(visit.unit_id, at + timedelta(minutes=75), by="mechanic", sure=sure)

    def _confirm_at(self, unit_id: str, when: datetime, *, by: str, sure: bool) -> None:
        """Let the owner open the link and state that the fix is done, or that one thing is not sure."""
        staff = self.week.staff
        person, unit = next(
            (person, unit)
            for person in self.people
            for unit in person.owner.units
            if staff.reference(unit) == unit_id
        )
        self.week.agenda.add(when, lambda: self.week.confirm(person, unit, by=by, sure=sure))
