"""A small register with postings in it, a clock one can turn, and a way out that does as told."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from threading import Lock

from audiences.workbooks import Sheet
from notices.cases import records
from notices.cases.events import NewEvent, unit_stream
from notices.cases.outgoing import Outcome, Pace, Parcel, WayOutError
from notices.cases.records import Posting, PostingState, PostingUnit
from notices.store.opening import open_register
from notices.work.ports import Register, Transaction, World
from notices.work.recording import record
from notices.work.sending import Plan

START = datetime(2026, 3, 3, 9, 0, tzinfo=UTC)


class Clock:
    """A clock that only sleeping moves on."""

    def __init__(self) -> None:
        self.at = START
        self.slept: list[float] = []

    def now(self) -> datetime:
        """Return where the clock stands."""
        return self.at

    def sleep(self, seconds: float) -> None:
        """Move on at once."""
        self.slept.append(seconds)
        self.at += timedelta(seconds=seconds)


class NoFolder:
    """A campaign folder with nothing in it."""

    def read(self, name: str) -> bytes | None:  # noqa: ARG002 - the port's argument
        """Return None."""
        return None

    def write(self, name: str, data: bytes) -> None:
        """Refuse: a run writes no file of the campaign."""
        raise AssertionError(name, data)

    def names(self, below: str) -> list[str]:  # noqa: ARG002 - the port's argument
        """Return nothing."""
        return []


def a_world(folder: Path, clock: Clock) -> World:
    """Return a world on a register of its own, with the clock of the test."""
    register: Register = open_register(str(folder / "register.db"), now=clock.now())
    return World(
        register=register,
        folder=NoFolder(),
        now=clock.now,
        draw=lambda n: n - 1,
        templates={},
        catalogues={},
        expressions={},
        laws={},
        sheet=lambda _data, _name: Sheet(),
    )


def fill(
    world: World, count: int, *, occasion: str = "stop", channel: str = "email", first: int = 1
) -> list[str]:
    """Write owners with one unit and one waiting posting each, the later the more endangered; return the ids."""
    now = world.now()
    numbers = range(first, first + count)
    with world.register.change() as tx:
        tx.variants.put(
            [
                records.VariantRow(
                    fingerprint=f"print-{occasion}",
                    kind=occasion.split("/", maxsplit=1)[0],
                    channel=channel,
                    verdict="affected",
                    segment="unknown",
                    market="EU",
                    language="en",
                    said="s",
                    content="{}",
                    made_at=now,
                )
            ],
            sayings=[records.Saying(said="s", verdict="affected", segment="unknown", level=2, body="{}")],
        )
        for number in numbers:
            _one(tx, number, occasion, channel, now, first + count - number)
    return [f"P{number:04d}" for number in numbers]


def _one(tx: Transaction, number: int, occasion: str, channel: str, now: datetime, rank: int) -> None:
    owner, unit, posting = f"O{number:04d}", f"U{number:04d}", f"P{number:04d}"
    address = f"owner{number}@owner.example"
    tx.people.put_owners(
        [records.OwnerRow(owner_id=owner, kind="person", name="A", language="en", basis="column")]
    )
    tx.people.put_contacts(
        [records.ContactRow(owner_id=owner, channel=channel, value_key=address, value=address)]
    )
    tx.units.put(
        [records.UnitRow(unit_id=unit, unit_key=unit, code=None, code_key=None, sold_on=None, sold_in=None)]
    )
    tx.units.put_holdings([records.Holding(unit_id=unit, owner_id=owner, role="keeper", from_seq=1)])
    payload = {"keeper": owner, "source": "list", "row": number}
    listed = NewEvent(
        stream=unit_stream(unit), kind="unit_listed", at=now, actor="program", via="list", payload=payload
    )
    record(tx, [listed], now=now)
    made = Posting(
        posting_id=posting,
        owner_id=owner,
        channel=channel,
        address=address,
        fingerprint=f"print-{occasion}",
        fill="{}",
        message_id=f"<{posting.lower()}@aldmere.example>",
        rank=rank,
    )
    about = PostingUnit(
        unit_id=unit,
        owner_id=owner,
        occasion=occasion,
        channel=channel,
        address_key=address,
        posting_id=posting,
    )
    assert tx.outbox.add(made, [about])


def message(posting: Posting, date: datetime) -> Parcel:
    """Make the message of a posting; the same for the same arguments."""
    text = f"Message-ID: {posting.message_id}\r\nDate: {date.isoformat()}\r\n\r\nDo not ride.\r\n"
    return Parcel(
        message_id=posting.message_id,
        sender="safety@aldmere.example",
        recipient=posting.address,
        data=text.encode(),
    )


def a_plan(clock: Clock, **changes: object) -> Plan:
    """Return how a run goes where a test says nothing else."""
    plain: dict[str, object] = {
        "worker": "here:1:a",
        "begun_by": "Mara Lind",
        "pace": Pace(text="none", gap=0.0),
        "messages": lambda _tx, _postings: message,
        "look_again": lambda _tx, _postings: {},
        "gone": lambda _worker: False,
        "sleep": clock.sleep,
    }
    return Plan(**(plain | changes))  # type: ignore[arg-type] # a test's own differences, by name


@dataclass
class TellingWay:
    """A way out whose outcomes a test says: by the message's turn, the last holding on."""

    outcomes: Sequence[Outcome] = (Outcome(result="handed_over", code=250),)
    opens: Sequence[str] = ()
    known: Callable[[str], bool | None] = lambda _message_id: None
    during: Callable[[Parcel], None] = lambda _parcel: None
    parcels: list[Parcel] = field(default_factory=list)
    opened: int = 0
    _lock: Lock = field(default_factory=Lock)

    def open(self) -> "TellingLine":
        """Open a line, or say why not: "-" stands for a temporary fault, another text for a lasting one."""
        with self._lock:
            turn = self.opened
            self.opened += 1
        says = self.opens[min(turn, len(self.opens) - 1)] if self.opens else ""
        if says:
            raise WayOutError(says, temporary=says == "-")
        return TellingLine(self)

    def has(self, message_id: str) -> bool | None:
        """Say what the test says."""
        return self.known(message_id)

    def take(self, parcel: Parcel) -> Outcome:
        """Keep a parcel and say its outcome."""
        with self._lock:
            turn = len(self.parcels)
            self.parcels.append(parcel)
        self.during(parcel)
        return self.outcomes[min(turn, len(self.outcomes) - 1)]


@dataclass
class TellingLine:
    """One line of it."""

    way: TellingWay

    def hand_over(self, parcel: Parcel) -> Outcome:
        """Hand over as the test says."""
        return self.way.take(parcel)

    def close(self) -> None:
        """Do nothing."""


def states(world: World) -> dict[str, int]:
    """Return how many postings stand in which state."""
    with world.register.look() as tx:
        every = list(tx.outbox.postings())
    return {
        str(state): count for state in PostingState if (count := sum(one.state is state for one in every))
    }
