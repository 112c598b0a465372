"""Who does what in the week after the first mail: each person's habit, entered in the agenda."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from random import Random

from audiences.segments import Segment
from notices.demo.clock import Agenda
from notices.demo.people import Habit, Person
from notices.demo.readers import Readers, buyer_of
from notices.demo.staff import Staff, in_office, moment
from notices.demo.units import Stamped

FIRST_MAIL, RECALL = date(2026, 2, 26), date(2026, 3, 3)
STRANGERS = 12
_GO_ON = 2  # of those who still use it, so many go on after the call
# Day of the answer and its share: most on the evening of a mail and the day after (invented).
_DAYS: tuple[tuple[date, int], ...] = (
    (date(2026, 2, 27), 36),
    (date(2026, 2, 28), 10),
    (date(2026, 3, 1), 8),
    (date(2026, 3, 2), 7),
    (date(2026, 3, 3), 17),
    (date(2026, 3, 4), 12),
    (date(2026, 3, 5), 5),
    (date(2026, 3, 6), 3),
    (date(2026, 3, 7), 2),
)
_RECALL_READ = 16  # h; the recall notice went out at 14 h
_POLISH = (
    "W niedzielę przy skręcaniu kierownica nagle przestała działać. Syn uderzył ramieniem o krawężnik, ma siniaka "
    "i boli go nadgarstek. Rower stoi w garażu. Proszę zadzwonić albo napisać, co mam robić."
)
_BY_HAND = (
    "Bonjour, je n'ai pas compris où se trouve le numéro. Le vélo est dans la cour, mon voisin l'emprunte parfois. "
    "Je lui ai dit de ne plus y toucher. Merci de me répondre par lettre, je n'aime pas l'ordinateur."
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Week:
    """The people and the firm in the days after the first mail."""

    readers: Readers
    staff: Staff
    agenda: Agenda
    rng: Random
    bulletin: str

    def plan(self, people: list[Person]) -> None:
        """Enter what everybody does; the one buyer comes after the first who has sold it on."""
        using = [one for one in people if one.habit is Habit.IN_USE]
        acts: dict[Habit, Callable[[Person], None]] = {
            Habit.ANSWERS: self._answers,
            Habit.PRESSES: lambda one: self._at(self._some_time(), lambda: self.readers.press(one)),
            Habit.IN_USE: lambda one: self._in_use(one, stops=using.index(one) >= _GO_ON),
            Habit.BY_MAIL: lambda one: self._at(self._some_time(), lambda: self.staff.read_mail(one)),
            Habit.CHANGES: self._changes,
            Habit.READS_B_AS_D: self._reads_b_as_d,
            Habit.FORWARDS: self._forwards,
            Habit.SOLD_ON: self._sold_on,
            Habit.RINGS: self._rings,
            Habit.HURT: self._hurt,
            Habit.WRITES: self._writes,
            Habit.SILENT: lambda _one: None,
        }
        for person in people:
            acts[person.habit](person)
        sold = next(one for one in people if one.habit is Habit.SOLD_ON).owner
        buyer = buyer_of(sold)
        self._at(
            moment(date(2026, 3, 5), 19, 20), lambda: self.readers.claim(buyer, self.bulletin, sold.units[0])
        )

    def call_the_refused(self, segments: tuple[Segment, ...]) -> None:
        """Call everybody whose provider refused the notice, from the next morning on."""
        for place, unit_id in enumerate(self.staff.refused_by_policy()):
            first = in_office(moment(date(2026, 2, 27), 9) + timedelta(minutes=45 * place))
            again = in_office(moment(date(2026, 3, 2), 9, 30) + timedelta(minutes=12 * place))
            self._at(first, _call(self.staff, unit_id, segments[place % len(segments)], again))

    def confirm(self, person: Person, unit: Stamped, *, by: str, sure: bool) -> None:
        """Let an owner state that the fix is done."""
        self.readers.confirm(person, unit, by=by, sure=sure)

    def _at(self, when: datetime, act: Callable[[], object]) -> None:
        self.agenda.add(when, lambda: (act(), None)[1])

    def _some_time(self, *, since: date = FIRST_MAIL) -> datetime:
        days = [(day, share) for day, share in _DAYS if day >= since]
        day = self.rng.choices([each for each, _ in days], [share for _, share in days])[0]
        hour = self.rng.randint(_RECALL_READ if day == RECALL else 7, 21)
        return moment(day, hour, self.rng.randint(0, 59))

    def _answers(self, one: Person) -> None:
        first = self._some_time()
        self._at(first, lambda: self.readers.answer(one))
        if first.date() < RECALL and one.returns:
            self._at(self._some_time(since=RECALL), lambda: self.readers.answer(one))

    def _reads_b_as_d(self, one: Person) -> None:
        self._at(moment(date(2026, 3, 4), 17, 25), lambda: self.readers.answer(one))

    def _in_use(self, one: Person, *, stops: bool) -> None:

        def act() -> None:
            self.readers.use_still(one)
            self.staff.call_back(one, stops=stops)

        self._at(self._some_time(), act)

    def _changes(self, one: Person) -> None:
        """Answer, and days later otherwise: mostly that it knocks after all, now and then that nobody rode it."""
        second = Segment.SYMPTOMATIC if self.rng.random() < 0.7 else Segment.UNRIDDEN  # noqa: PLR2004 - mostly
        first = self._some_time()
        self._at(first, lambda: self.readers.answer(one))
        self._at(first + timedelta(days=1, hours=3), lambda: self.readers.change_use(one, second))

    def _forwards(self, one: Person) -> None:
        self._at(
            moment(date(2026, 3, 4), 8, 10),
            lambda: self.readers.strangers(self.readers.link(one.owner), STRANGERS),
        )

    def _sold_on(self, one: Person) -> None:
        words = self.rng.choice(
            ("A family from the school bought it in January.", "Given to my sister, she lives in Waterzele.")
        )
        self._at(
            self._some_time(), lambda: self.readers.fill_in(one.owner, "/gone", "holder", {"holder": words})
        )

    def _rings(self, one: Person) -> None:
        """Ring the next morning; in the evening the daughter opens the link and says that she helps."""
        unit_id = self.staff.reference(one.owner.units[0])
        called = moment(date(2026, 2, 27), 10, 15)
        self._at(called, lambda: self.staff.spoke(unit_id))
        helper = {"helper": f"Ruth {one.owner.family}, her daughter", "phone": one.owner.phone}
        self._at(
            moment(date(2026, 2, 27), 18, 40),
            lambda: self.readers.fill_in(one.owner, "/helper", "helper", helper),
        )
        self._at(moment(date(2026, 2, 27), 18, 50), lambda: self.readers.answer(one))

    def _hurt(self, one: Person) -> None:
        self._at(
            moment(date(2026, 3, 1), 20, 30), lambda: self.staff.read_mail(one, _POLISH, help_with="hurt")
        )

    def _writes(self, one: Person) -> None:
        self._at(moment(date(2026, 2, 28), 11), lambda: self.staff.read_mail(one, _BY_HAND))


def _call(staff: Staff, unit_id: str, segment: Segment, again: datetime) -> Callable[[], None]:
    return lambda: staff.call(unit_id, segment, again_at=again)
