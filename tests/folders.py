"""A campaign folder on disk with the demo's wording, a clock and a list: what a lead has on the first day."""

import random
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from email import message_from_bytes, policy
from email.message import EmailMessage
from pathlib import Path

from audiences.owners import Role
from notices import assembly
from notices.cases.case import Case
from notices.cases.events import unit_stream
from notices.cases.records import PostingState
from notices.settings import Settings
from notices.work import importing, posting, signing
from notices.work.dispatching import Sender, dispatch
from notices.work.lists import Imported
from notices.work.ports import World
from notices.work.sending import Sent
from tests.builders import DEMO_FOLDER

WARNED = datetime(2026, 2, 26, 17, 0, tzinfo=UTC)
RECALLED = datetime(2026, 3, 3, 9, 0, tzinfo=UTC)
LEAD = "Ines Hall"

LIST = """sale no,name,email,phone,street,town,country,language,code,sold on,sold in
1,Anna O'Neil,anna@mail.example,,,,GB,en,QM-2534-B0172,2025-09-01,GB
2,Bernd Müller,bernd@post.example,030 23125010,,,DE,de,QM-2540-D0144,2025-10-10,DE
3,سمير,samir@post.example,,,,DE,ar,,2025-10-10,DE
4,Bernd Müller,bernd@post.example,030 23125010,,,DE,de,QM-2541-B0999,2025-10-10,DE
5,Nora Stamp,,,Lime Walk 1,Dunmarrow,IE,,QM-2533-C0001,2025-10-10,IE
"""


@dataclass
class Desk:
    """The lead's desk: the folder, the world over it, and the hand of the clock."""

    root: Path
    now: datetime
    world: World

    def wording(self, revision: int) -> None:
        """Put the demo's wording of a revision into the folder."""
        shutil.copy(DEMO_FOLDER / f"campaign-{revision}.yaml", self.root / "campaign.yaml")
        shutil.rmtree(self.root / "translations", ignore_errors=True)
        shutil.copytree(DEMO_FOLDER / f"translations-{revision}", self.root / "translations")

    def edit(self, before: str, after: str, file: str = "campaign.yaml") -> None:
        """Change the draft as a lead would, in an editor."""
        path = self.root / file
        text = path.read_text(encoding="utf-8")
        assert before in text, f"{before!r} is not in {file}"
        path.write_text(text.replace(before, after), encoding="utf-8")

    def take(self, text: str = LIST, name: str = "shop", *, role: Role = "keeper") -> Imported:
        """Import a list of people with this part in a unit."""
        read = importing.read_list(self.world, data=text.encode(), file=f"{name}.csv", name=name)
        return importing.import_list(self.world, read, role=role)

    def sign(self) -> signing.Signed:
        """Sign everything."""
        return signing.sign(self.world, by=LEAD, unread_too=True)

    def post(self) -> posting.Prepared:
        """Put what is owed and signed into the outbox."""
        return posting.prepare(self.world)

    def states(self) -> dict[str, list[str]]:
        """Return what stands in the outbox: state by address, in the order of sending."""
        with self.world.register.look() as tx:
            found: dict[str, list[str]] = {}
            for one in tx.outbox.postings():
                found.setdefault(one.address, []).append(one.state.value)
            return found

    def send(self) -> Sent:
        """Send everything into the folder ``sent`` beside the campaign's files."""
        post = assembly.folder_post(self.root / "sent")
        sender = Sender(
            worker="test:1:1", gone=lambda _worker: False, sleep=lambda _seconds: None, halted=lambda: None
        )
        return dispatch(self.world, post.way, sender, by=LEAD, pace=post.pace)

    def mails(self) -> list[EmailMessage]:
        """Return the messages sent so far, ordered by address and subject."""
        found = [
            message_from_bytes(path.read_bytes(), EmailMessage, policy=policy.default)
            for path in (self.root / "sent").glob("*.eml")
        ]
        return sorted(found, key=lambda one: (str(one["To"]), str(one["Subject"])))

    def case(self, code: str) -> Case:
        """Return the case of the unit with this code."""
        with self.world.register.look() as tx:
            unit = next(one for one in tx.units.units().values() if one.code == code)
            return tx.cases.get([unit.unit_id])[unit.unit_id].case

    def kinds(self, case: Case) -> list[str]:
        """Return the kinds of what happened to a unit."""
        with self.world.register.look() as tx:
            return [event.kind for event in tx.events.stream(unit_stream(case.unit_id))]

    def waiting(self) -> int:
        """Count the waiting postings."""
        with self.world.register.look() as tx:
            return sum(1 for _ in tx.outbox.postings(state=PostingState.WAITING))


@contextmanager
def a_desk(root: Path, *, revision: int = 0) -> Iterator[Desk]:
    """Yield a desk with the demo's wording at a revision and nothing imported yet."""
    root.mkdir(parents=True, exist_ok=True)
    shutil.copytree(DEMO_FOLDER / "pictures", root / "pictures")
    hand: list[Desk] = []
    dice = random.Random(7)  # noqa: S311 - a test repeats
    with assembly.opened(
        root, Settings(), now=lambda: hand[0].now if hand else WARNED, draw=dice.randrange
    ) as world:
        desk = Desk(root=root, now=WARNED if revision == 0 else RECALLED, world=world)
        hand.append(desk)
        desk.wording(revision)
        yield desk
