"""The story from the first knowledge on, through the same use cases as the commands."""

from collections.abc import Callable, Mapping
from contextlib import ExitStack
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from random import Random

from starlette.types import ASGIApp

from audiences import addresses
from audiences.segments import Segment
from notices import assembly
from notices.cases.due import Step
from notices.demo import campaign_folder, lists, people
from notices.demo.clock import Agenda, Clock
from notices.demo.lead import Lead
from notices.demo.lists import Lists
from notices.demo.mail_server import MailServer
from notices.demo.names import REFUSING_DOMAIN
from notices.demo.people import Person
from notices.demo.readers import Readers
from notices.demo.repairs import Repairs
from notices.demo.site import Site
from notices.demo.staff import Staff, moment
from notices.demo.turns import END, FIRST_END, Turns
from notices.demo.week import Week
from notices.work import importing, looking, stopping
from notices.work.looking import Status
from notices.work.ports import World

_HOLDS = {
    "web shop": ("Iseult Varley", 9),
    "shop Port Aldmere": ("Fintan Roe", 4),
    "partner shop one": ("Hartwig Lohse", 3),
    "partner shop two": ("Wanda Trebnik", 2),
    "hire units": ("Iseult Varley", 5),
}
_SEGMENTS = (
    Segment.RIDDEN_NO_SYMPTOMS,
    Segment.RIDDEN_NO_SYMPTOMS,
    Segment.UNRIDDEN,
    Segment.SYMPTOMATIC,
)

Say = Callable[[str], None]


@dataclass(frozen=True, kw_only=True, slots=True)
class Surfaces:
    """What the demo shows besides the register: the owners' pages, and the status as a command prints it."""

    pages: Callable[[World], ASGIApp]
    status: Callable[[Status], str]


@dataclass(frozen=True, kw_only=True, slots=True)
class Story:
    """What came of a run: the invented people, the mail server's mailboxes, each exchange, and the states.

    *first* is the state after the stop warning, *twelfth* that on the morning of 12 March (None: the run ended before),
    *last* the one at the end; *calls* is the call list of each revision that had one, as it stood when it was signed.
    """

    lists: Lists
    people: tuple[Person, ...]
    server: MailServer
    readers: Readers
    references: dict[str, str]
    first: Status
    twelfth: Status | None
    last: Status
    calls: Mapping[int, tuple[Step, ...]]


def tell(into: Path, seed: int, say: Say, surfaces: Surfaces, *, until: date = END) -> Story:
    """Let the story happen in the folder *into*, up to the evening of *until*; the same seed tells the same story."""
    with ExitStack() as stack:
        return _Days(into, seed, say, surfaces, stack).all(until)


class _Days:
    """One run: the folder, the world and the people, from day to day."""

    def __init__(self, into: Path, seed: int, say: Say, surfaces: Surfaces, stack: ExitStack) -> None:
        self._into = into
        self._say = say
        self._surfaces = surfaces
        self._stack = stack
        # Each part of the story has dice of its own, so that none shifts the others.
        self._rng = Random(f"{seed}/week")  # noqa: S311 - a story that repeats, not a secret
        self._later = Random(f"{seed}/later")  # noqa: S311 - the same
        self._clock = Clock(moment(date(2026, 2, 24), 9, 10))
        self._agenda = Agenda(self._clock)
        self._lists = lists.made(seed)
        self._people = people.made(self._lists.owners, Random(f"{seed}/people"))  # noqa: S311 - the same
        self._server = self._stack.enter_context(
            MailServer(dead=_dead(self._lists), refusing=REFUSING_DOMAIN, now=self._clock.now)
        )
        draws = Random(f"{seed}/ids")  # noqa: S311 - the same
        self._world = self._stack.enter_context(
            assembly.opened(into, now=self._clock.now, draw=draws.randrange)
        )
        self._lead = Lead(into=into, port=self._server.port, world=self._world, clock=self._clock, say=say)

    def all(self, until: date) -> Story:
        """Go from day to day."""
        self._stop_the_sale()
        references = self._first_mail()
        first = looking.status(self._world)
        self._say(self._sum(first))
        readers, week = self._people_come_in(references)
        self._recall(readers)
        repairs = Repairs(week=week, people=self._people)
        self._visits(repairs)
        turns = Turns(
            lead=self._lead, week=week, people=self._people, rng=self._later, status=self._surfaces.status
        )
        if until > FIRST_END:  # the first fortnight is told as it was known then: revisions 0 and 1
            turns.ball_joints()
        self._reminders(readers)
        self._at(FIRST_END, 18)
        self._say(
            f"\nMon 9 March, 18 h. {repairs.fixed()} cases are closed as fixed, each on its owner's word."
        )
        turns.go_on(until)
        return Story(
            lists=self._lists,
            people=tuple(self._people),
            server=self._server,
            readers=readers,
            references=references,
            first=first,
            twelfth=turns.twelfth,
            last=looking.status(self._world),
            calls=turns.calls,
        )

    def _at(self, day: date, hour: int, minute: int = 0) -> None:
        self._agenda.until(moment(day, hour, minute))

    def _stop_the_sale(self) -> None:
        self._lead.write(0)
        self._say("Tue 24 February 2026. A steering link has broken in Bologna. Sales stop the same day.")
        for minute, (place, (by, holds)) in enumerate(_HOLDS.items()):
            self._at(date(2026, 2, 24), 10, 11 * minute)
            stopping.stop(self._world, place=place, holds=holds, by=by)
        places = stopping.places(self._world)
        held = sum(one.holds or 0 for one in places)
        self._say(f"  {len(places)} places have stopped and hold {held} unsold units back.")

    def _first_mail(self) -> dict[str, str]:
        self._at(date(2026, 2, 26), 17)
        self._say("\nThu 26 February, 17 h. A second link has broken. Everybody is warned this evening.")
        for name, data in self._lists.files.items():
            read = importing.read_list(self._world, data=data, file=f"{name}.csv", name=name)
            done = importing.import_list(self._world, read)
            self._say(
                f"  list {name}: {len(read.table.rows)} rows, {done.new} new units,"
                f" repeated rows: {done.same + done.changed}"
            )
        self._lead.sign("stop warning")
        self._lead.send("stop warning")
        return self._references()

    def _people_come_in(self, references: dict[str, str]) -> tuple[Readers, Week]:
        site = self._stack.enter_context(Site(self._surfaces.pages(self._world)))
        readers = Readers(server=self._server, port=site.port, clock=self._clock)
        self._lead.scanned(readers)
        staff = Staff(
            world=self._world, clock=self._clock, agenda=self._agenda, rng=self._rng, references=references
        )
        week = Week(
            readers=readers,
            staff=staff,
            agenda=self._agenda,
            rng=self._rng,
            bulletin=campaign_folder.BULLETIN,
        )
        week.plan(self._people)
        week.call_the_refused(_SEGMENTS)
        self._say(
            f"\nFri 27 February to Mon 2 March. The first owners answer; the {len(staff.refused_by_policy())}"
            " whose provider refuses the mail are called."
        )
        self._at(date(2026, 3, 3), 9)
        self._figures(readers)
        return readers, week

    def _recall(self, readers: Readers) -> None:
        self._say("\nTue 3 March. The repair can be promised; lines A and D are cleared. Revision 1.")
        self._lead.write(1)
        self._at(date(2026, 3, 3), 13, 30)
        self._lead.sign("recall notice")
        self._at(date(2026, 3, 3), 14)
        self._lead.send_to(readers, "recall notice")
        self._lead.publish()

    def _visits(self, repairs: Repairs) -> None:
        self._at(date(2026, 3, 5), 10)
        booked, kits = repairs.book()
        self._say(
            f"\nThu 5 March. The first {booked} visits of a mechanic are booked, {kits} kits go to owners."
        )

    def _reminders(self, readers: Readers) -> None:
        self._at(date(2026, 3, 6), 9)
        self._say("\nFri 6 March. Who has not answered is written to again.")
        self._lead.sign("mail again, and what else is owed")
        self._lead.send_to(readers, "mail again, and what else is owed")
        self._at(date(2026, 3, 9), 12)
        self._figures(readers)

    def _references(self) -> dict[str, str]:
        by_key = {f"sale:{one.shop}:{one.number}": one.unit.stamped for one in self._lists.sales}
        with self._world.register.look() as tx:
            units = tx.units.units().values()
        return {by_key[unit.unit_key]: unit.unit_id for unit in units if unit.unit_key in by_key}

    def _figures(self, readers: Readers) -> None:
        stopped = looking.status(self._world).standing.stopped
        self._say(
            f"  units by now: {stopped['stopped']} stopped, {stopped['pressed']} pressed the button and no more,"
            f" {stopped['in_use']} still in use; {len(readers.trail)} pages served so far"
        )

    @staticmethod
    def _sum(found: Status) -> str:
        one = found.standing
        return (
            f"  {one.sold} sold = {one.in_hands} in owners' hands + {one.cleared} cleared"
            f" + {one.put_away} put away + {one.owner_unknown} owner unknown"
        )


def _dead(found: Lists) -> list[str]:
    return [addresses.email(one.email).value for one in found.owners if one.mailbox == "dead"]
