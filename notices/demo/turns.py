"""How the knowledge turns: the remedy widened, a line cleared, another affected after all, a lot of kits withdrawn."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, timedelta
from random import Random

from notices.cases.due import Step
from notices.cases.follow_ups import CALL_NOW
from notices.demo.kits import LOT, SENT, Kits
from notices.demo.lead import Lead
from notices.demo.people import Habit, Person
from notices.demo.staff import SERVICE, Staff, in_office, moment
from notices.demo.week import Week
from notices.work import looking, lots
from notices.work.looking import Status

FIRST_END, END = date(2026, 3, 9), date(2026, 3, 31)
_MINUTES_A_CALL = 6
_CALLED_OF_A_LOT = 14  # by the end, of those who got a faulty kit
_WHY = "A fitter in Ferngard found M8 nuts with the wrong thread in the kit; all kits of the lot were packed that day."


@dataclass(kw_only=True, slots=True)
class Turns:
    """What happens when something new is known; *calls* holds each call list, *twelfth* the state on 12 March."""

    lead: Lead
    week: Week
    people: list[Person]
    rng: Random
    status: Callable[[Status], str]
    twelfth: Status | None = None
    calls: dict[int, tuple[Step, ...]] = field(default_factory=dict)

    def ball_joints(self) -> None:
        """Revision 2: more is promised to those whose bicycle has been ridden, or may have been."""
        self._at(date(2026, 3, 5), 15)
        self.lead.say("\nThu 5 March, 15 h. Ball joints of ridden bicycles can be damaged too. Revision 2.")
        self._revision(2, "corrections")

    def go_on(self, until: date) -> None:
        """Live through the days after 9 March, up to the evening of *until*."""
        kits = Kits(week=self.week, people=self.people)
        days: tuple[tuple[date, Callable[[], None]], ...] = (
            (date(2026, 3, 10), self._agreed),
            (date(2026, 3, 11), self._line_c),
            (date(2026, 3, 12), lambda: self._morning(kits)),
            (date(2026, 3, 17), lambda: self._more_kits(kits)),
            (date(2026, 3, 18), self._line_d),
            (date(2026, 3, 24), self._reminders),
            (date(2026, 3, 26), self._overdue),
            (date(2026, 3, 30), self._lot),
        )
        for day, turn in days:
            if day <= until:
                turn()
        self._at(until, 18)
        if until > FIRST_END:
            self.lead.say(f"\n{until:%a} {until.day} {until:%B}, 18 h. The story ends here.")

    @property
    def _staff(self) -> Staff:
        return self.week.staff

    def _at(self, day: date, hour: int, minute: int = 0) -> None:
        self.week.agenda.until(moment(day, hour, minute))

    def _revision(self, number: int, what: str) -> None:
        self.lead.write(number)
        self.lead.sign(what)
        self.lead.send_to(self.week.readers, what)
        self.lead.publish()

    def _agreed(self) -> None:
        self._at(date(2026, 3, 10), 9)
        self.lead.say("\nTue 10 March. The authority in the US agrees: its owners get the recall notice.")
        self.lead.agreed()
        self.lead.sign("recall notice, and what else is owed")
        self.lead.send_to(self.week.readers, "recall notice, and what else is owed")

    def _line_c(self) -> None:
        self._at(date(2026, 3, 11), 10)
        self.lead.say("\nWed 11 March. Line C is cleared: it has another link. Revision 3.")
        self._revision(3, "corrections")

    def _morning(self, kits: Kits) -> None:
        self._at(date(2026, 3, 12), 8)
        self.twelfth = looking.status(self.lead.world)
        self.lead.say(f"\nThu 12 March, in the morning.\n\n{self.status(self.twelfth)}\n")
        self._at(date(2026, 3, 12), 9)
        called = self._call_the_unreached()
        self.lead.say(
            f"Thu 12 March. {called} owners whom no mail reaches have a telephone: they are called."
            f" {kits.send(SENT // 2)} kits of lot {LOT} are sent."
        )

    def _call_the_unreached(self) -> int:
        """Enter a call for each unit that no notice has reached and whose owner left a number."""
        found = looking.due(self.lead.world).steps
        reached_by = [step.unit_id for step in found if step.channel in {"text", "phone"} and step.to]
        with self.lead.world.register.look() as tx:
            cases = tx.cases.get(reached_by)
        units = [unit_id for unit_id in reached_by if cases[unit_id].case.live == 0]
        for place, unit_id in enumerate(units):
            self._call(unit_id, place)
        return len(units)

    def _more_kits(self, kits: Kits) -> None:
        self._at(date(2026, 3, 17), 10)
        self.lead.say(f"\nTue 17 March. {kits.send(SENT)} more kits of lot {LOT} are sent.")

    def _line_d(self) -> None:
        self._at(date(2026, 3, 18), 14)
        self.lead.say("\nWed 18 March, 14 h. Line D, weeks 2540 and 2541, is affected after all. Revision 4.")
        self._revision(4, "corrections, first of all to who was told safe")
        self._call_list(4)
        for person in self.people:
            hears = person.habit is not Habit.SILENT and self.rng.random() < 0.6  # noqa: PLR2004 - most read mails
            if hears and len(person.owner.units) == 1 and person.owner.units[0].line == "D":
                self._answers_again(person)

    def _answers_again(self, person: Person) -> None:
        at = moment(date(2026, 3, 18), 15, 40) + timedelta(minutes=self.rng.randint(0, 2_400))
        self.week.agenda.add(at, lambda: (self.week.readers.answer(person), None)[1])

    def _call_list(self, revision: int, at_most: int | None = None) -> None:
        """Keep the call list that a revision brings, and begin at its top."""
        known = {step.unit_id for calls in self.calls.values() for step in calls}
        steps = tuple(
            step
            for step in looking.due(self.lead.world).steps
            if step.step == CALL_NOW and _ours(step) and step.unit_id not in known
        )
        self.calls[revision] = steps
        numbers = [step.unit_id for step in steps if step.channel == "phone" and step.to]
        self.lead.say(
            f"  the call list of this day: {len(steps)} units, {len(numbers)} of them with a telephone number"
        )
        for place, unit_id in enumerate(numbers[:at_most]):
            self._call(unit_id, place)

    def _call(self, unit_id: str, place: int) -> None:
        at = in_office(self.lead.clock.now() + timedelta(minutes=10 + _MINUTES_A_CALL * place))
        self.week.agenda.add(at, lambda: self._staff.spoke(unit_id))

    def _reminders(self) -> None:
        self._at(date(2026, 3, 24), 9)
        self.lead.say("\nTue 24 March. Who has not answered the correction is written to again.")
        self.lead.sign("mail again")
        self.lead.send_to(self.week.readers, "mail again")

    def _overdue(self) -> None:
        self._at(date(2026, 3, 26), 9)
        late = [one.message for one in looking.status(self.lead.world).findings]
        self.lead.say(f"\nThu 26 March. notices status says: {'; '.join(late)}.")

    def _lot(self) -> None:
        self._at(date(2026, 3, 30), 9, 30)
        done = lots.withdraw_lot(self.lead.world, LOT, why=_WHY, by=SERVICE)
        self.lead.say(
            f"\nMon 30 March. Kits of lot {LOT} hold a wrong nut: {len(done.told)} were sent,"
            f" {len(done.reopened)} cases closed as fixed are open again. Revision 5."
        )
        self._revision(5, "corrections to who got such a kit")
        self._call_list(5, _CALLED_OF_A_LOT)


def _ours(step: Step) -> bool:
    """Say whether a call is on the list because of what we said or sent, not of what the owner said."""
    return "told safe" in step.why or "withdrawn lot" in step.why
