"""A register with a signed revision and a few owners: valid by default, one difference per test."""

import itertools
import random
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path

from notices import assembly
from notices.campaign.models import Campaign
from notices.campaign.revisions import Revision, digest, to_content
from notices.cases import ids
from notices.cases.case import Case
from notices.cases.events import Event, NewEvent, unit_stream
from notices.cases.records import ContactRow, Holding, OwnerRow, RevisionRow, UnitRow
from notices.store import open_register
from notices.work import revisions
from notices.work.judging import verdict_event
from notices.work.links import link_of, prepare_secrets
from notices.work.ports import World
from notices.work.recording import record
from tests.source import ROOT

DEMO = ROOT / "notices" / "demo" / "folder"
MORNING = datetime(2026, 3, 4, 8, 0, tzinfo=UTC)
AFFECTED = "QM-2534-B0172"


@dataclass
class Clock:
    """Stands still until it is moved."""

    at: datetime = MORNING

    def __call__(self) -> datetime:
        """Return this moment."""
        return self.at

    def forward(self, span: timedelta) -> None:
        """Move it."""
        self.at += span


@dataclass
class Owners:
    """The world of one test, and how to look into its register."""

    world: World
    clock: Clock
    serial: Iterator[int] = field(default_factory=itertools.count)

    def owner(
        self,
        name: str = "Anna Berg",
        *,
        language: str = "en",
        country: str | None = "GB",
        kind: str = "person",
    ) -> str:
        """List an owner and return the personal link."""
        owner = OwnerRow(
            owner_id=ids.long_id(self.world.draw),
            kind=kind,
            name=name,
            language=language,
            basis="column",
            country=country,
        )
        with self.world.register.change() as tx:
            tx.people.put_owners([owner])
            return link_of(tx, owner.owner_id)

    def unit(self, link: str, code: str | None = AFFECTED) -> str:
        """List a unit of the link's owner, judged by the signed revision, and return its id."""
        with self.world.register.change() as tx:
            owner_id = self.owner_id(link)
            unit_id = ids.unit_id(self.world.draw)
            unit = UnitRow(
                unit_id=unit_id,
                unit_key=f"sale-{next(self.serial)}",
                code=code,
                code_key=code.replace("-", "") if code else None,
                sold_on=None,
                sold_in="GB",
            )
            tx.units.put([unit])
            listed = NewEvent(
                stream=unit_stream(unit_id),
                kind="unit_listed",
                at=self.clock(),
                actor="program",
                via="list",
                payload={"keeper": owner_id, "source": "list.csv", "row": 2},
            )
            held = revisions.signed(tx)
            assert held is not None
            judged = verdict_event(held, unit, at=self.clock(), actor="program", via="list")
            record(tx, [listed, judged], now=self.clock())
            tx.units.put_holdings([Holding(unit_id=unit_id, owner_id=owner_id, role="keeper", from_seq=1)])
            return unit_id

    def owner_id(self, link: str) -> str:
        """Return the id behind a link."""
        with self.world.register.look() as tx:
            found = [
                row.owner_id
                for rows in tx.people.contacts().values()
                for row in rows
                if row.channel == "link" and link_of(tx, row.owner_id) == link
            ]
        return found[0]

    def retire(self, link: str) -> None:
        """Retire a personal link."""
        with self.world.register.change() as tx:
            rows = tx.people.contacts([self.owner_id(link)])[self.owner_id(link)]
            old = next(row for row in rows if row.channel == "link")
            tx.people.put_contacts(
                [
                    ContactRow(
                        owner_id=old.owner_id,
                        channel="link",
                        value_key=old.value_key,
                        value="",
                        fault="retired",
                    )
                ]
            )

    def case(self, unit_id: str) -> Case:
        """Return a unit's case."""
        with self.world.register.look() as tx:
            return tx.cases.get([unit_id])[unit_id].case

    def due(self, unit_id: str) -> str:
        """Return the step that is due for a unit, empty where none is."""
        with self.world.register.look() as tx:
            row = tx.cases.get([unit_id])[unit_id]
        return row.due.step if row.due else ""

    def events(self, unit_id: str) -> list[Event]:
        """Return what happened to a unit."""
        with self.world.register.look() as tx:
            return tx.events.stream(unit_stream(unit_id))

    def kinds(self, unit_id: str) -> list[str]:
        """Return the kinds of what happened to a unit since it was listed and judged."""
        return [event.kind for event in self.events(unit_id)][2:]

    def words(self, event: Event, key: str = "text") -> str:
        """Return the text that an event points at."""
        text_id = str(event.payload[key])
        with self.world.register.look() as tx:
            return tx.papers.texts([text_id])[text_id].body

    def all_units(self) -> dict[str, UnitRow]:
        """Return every unit."""
        with self.world.register.look() as tx:
            return tx.units.units()

    def contacts(self, link: str) -> dict[str, str]:
        """Return an owner's contacts by channel, the link aside."""
        owner_id = self.owner_id(link)
        with self.world.register.look() as tx:
            rows = tx.people.contacts([owner_id]).get(owner_id, [])
        return {row.channel: row.value for row in rows if row.channel != "link"}

    def sign(self, change: Callable[[Campaign], Campaign] = lambda campaign: campaign) -> None:
        """Sign the demo's revision 1, changed."""
        found = revisions.draft(self.world).revision
        assert found is not None
        campaign = change(found.campaign)
        revision = Revision(campaign=campaign, translations=found.translations, pictures=found.pictures)
        content = to_content(revision)
        with self.world.register.change() as tx:
            prepare_secrets(tx, self.world)
            tx.papers.put_revision(
                RevisionRow(
                    number=revision.number,
                    adopted_at=self.clock(),
                    adopted_by="Mara Quill",
                    content=content,
                    digest=digest(content),
                )
            )


def campaign_folder(place: Path) -> Path:
    """Lay out the demo's campaign at revision 1."""
    (place / "translations").mkdir(parents=True)
    (place / "pictures").mkdir()
    (place / "campaign.yaml").write_bytes((DEMO / "campaign-1.yaml").read_bytes())
    for written in sorted((DEMO / "translations-1").iterdir()):
        (place / "translations" / written.name).write_bytes(written.read_bytes())
    for picture in sorted((DEMO / "pictures").iterdir()):
        (place / "pictures" / picture.name).write_bytes(picture.read_bytes())
    return place


@contextmanager
def owners_world(place: Path, *, seed: int = 7, signed: bool = True) -> Iterator[Owners]:
    """Yield a world on a register of its own, revision 1 *signed* or not, with seeded dice and a standing clock."""
    folder = campaign_folder(place / "campaign")
    clock = Clock()
    register = open_register(str(folder / "register.db"), now=clock())
    dice = random.Random(seed)  # noqa: S311 - a test must repeat
    world = assembly.world(folder, register, now=clock, draw=dice.randrange)
    try:
        owners = Owners(world=world, clock=clock)
        if signed:
            owners.sign()
        yield owners
    finally:
        register.close()
