"""Kits of one lot: forty are sent, nine are fitted and confirmed, and then the lot turns out to hold a wrong nut."""

from dataclasses import dataclass, field
from datetime import date, timedelta

from notices.demo.people import Person
from notices.demo.staff import SERVICE, Visit, moment
from notices.demo.units import Stamped
from notices.demo.week import Week

LOT, SENT, CONFIRMED = "K3", 40, 9
_FITTED = 6  # fitted, and not confirmed by their owners
_MECHANIC = "Eoghan Tallis"
_KIT = "QL-204, QL-011, torque wrench, spanner"
_DAYS = tuple(date(2026, 3, day) for day in (19, 20, 21, 23, 24, 25, 26))


@dataclass(kw_only=True, slots=True)
class Kits:
    """The kits of the lot that went out, each to one unit; *people* are those whom mail reaches."""

    week: Week
    people: list[Person]
    sent: list[str] = field(default_factory=list)

    def send(self, count: int) -> int:
        """Send kits to who waits for a repair at the door, at most *count*; return how many went."""
        staff = self.week.staff
        fitting = staff.for_kits()
        waiting = [unit_id for unit_id in (*fitting, *staff.for_mechanics()) if self._owner_of(unit_id)]
        going = waiting[: min(count, SENT - len(self.sent))]
        for unit_id in going:
            staff.write(unit_id, "parts", _KIT, lot=LOT, by=SERVICE)
            self._fitted(unit_id, len(self.sent), by="owner" if unit_id in fitting else "mechanic")
            self.sent.append(unit_id)
        return len(going)

    def _fitted(self, unit_id: str, place: int, *, by: str) -> None:
        """Enter what becomes of a kit: the first are fitted and confirmed, some only fitted, the rest on the way."""
        if place >= CONFIRMED + _FITTED:
            return
        staff, agenda = self.week.staff, self.week.agenda
        at = moment(_DAYS[place % len(_DAYS)], 9 + place % 6, 7 * (place % 8))
        if by == "mechanic":
            staff.book(Visit(unit_id=unit_id, day=at.date()))
        who = _MECHANIC if by == "mechanic" else SERVICE
        agenda.add(at, lambda: staff.write(unit_id, "done", LOT, by=who))
        found = self._owner_of(unit_id)
        if place < CONFIRMED and found is not None:
            person, unit = found
            agenda.add(at + timedelta(minutes=80), lambda: self.week.confirm(person, unit, by=by, sure=True))

    def _owner_of(self, unit_id: str) -> tuple[Person, Stamped] | None:
        staff = self.week.staff
        return next(
            (
                (person, unit)
                for person in self.people
                for unit in person.owner.units
                if staff.reference(unit) == unit_id
            ),
            None,
        )
