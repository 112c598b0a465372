"""One event with its case, and what a person asks of a hundred thousand cases."""

import tempfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import ExitStack
from datetime import timedelta
from pathlib import Path

from notices.cases.events import NewEvent, unit_stream
from notices.cases.records import ContactRow, Holding, OwnerRow, RevisionRow, UnitRow
from notices.store import open_register
from notices.work.looking import Status, due, status
from notices.work.ports import Register
from notices.work.recording import record
from tests import registers
from tests.benchmarks import yardsticks
from tests.benchmarks.timing import ROUNDS, Bound, Line, ready, slowness, wall
from tests.owners_world import MORNING, owners_world

_STORIES: Sequence[tuple[str, Mapping[str, object]]] = (
    ("use_stated", {"segment": "symptomatic", "signs": True}),
    ("stop_stated", {"stopped": True, "signs": True}),
    ("stop_stated", {"stopped": False, "signs": True}),
    ("remedy_chosen", {"remedy": "exchange", "signs": True}),
    ("help_asked", {"what": "call"}),
    ("stop_stated", {"stopped": True, "signs": False}),
    ("case_closed", {"ending": "fixed"}),
    ("case_closed", {"ending": "unreachable"}),
    ("case_closed", {"ending": "in_stock"}),
    ("case_closed", {"ending": "listed_twice"}),
    ("verdict_given", {"verdict": "cleared", "why": "by code", "near": False, "rule": "", "revision": 1}),
    ("holder_ended", {"owner": "nobody", "role": "keeper"}),
)
_AT = MORNING + timedelta(hours=1)


def _said(unit_id: str) -> NewEvent:
    return NewEvent(
        stream=unit_stream(unit_id),
        kind="use_stated",
        at=_AT,
        actor="owner",
        via="page",
        payload={"segment": "symptomatic", "signs": True},
    )


def _furnish(register: Register, unit_ids: Sequence[str]) -> None:
    """List owners with one unit each, every unit judged."""
    owners = {unit_id: f"OWNER{unit_id}" for unit_id in unit_ids}
    with register.change() as tx:
        tx.people.put_owners(
            OwnerRow(owner_id=owner, kind="person", name="Ada Quell", language="en", basis="column")
            for owner in owners.values()
        )
        tx.people.put_contacts(
            ContactRow(
                owner_id=owner, channel="email", value_key=f"{owner}@x.example", value=f"{owner}@x.example"
            )
            for owner in owners.values()
        )
        tx.units.put(
            UnitRow(unit_id=unit, unit_key=unit, code=None, code_key=None, sold_on=None, sold_in="GB")
            for unit in unit_ids
        )
        tx.units.put_holdings(
            Holding(unit_id=unit, owner_id=owner, role="keeper", from_seq=1) for unit, owner in owners.items()
        )
        record(tx, [event for unit in unit_ids for event in _listed(unit, owners[unit])], now=MORNING)


def _listed(unit_id: str, owner_id: str) -> Iterator[NewEvent]:
    listed = {"keeper": owner_id, "source": "shop", "row": 2}
    verdict = {"verdict": "missing", "why": "", "near": False, "rule": "", "revision": 1}
    for kind, payload in (("unit_listed", listed), ("verdict_given", verdict)):
        yield NewEvent(
            stream=unit_stream(unit_id), kind=kind, at=MORNING, actor="program", via="list", payload=payload
        )


def one_event_sqlite(*, quick: bool) -> Iterator[Line]:
    """Compare recording an event, folded and durable, with the bare driver's same two statements."""
    yield _one_event("sqlite", size=20 if quick else 1_000, quick=quick)


def one_event_postgresql(*, quick: bool) -> Iterator[Line]:
    """Compare the same on a server."""
    yield _one_event("postgresql", size=20 if quick else 1_000, quick=quick)


def _one_event(engine: str, *, size: int, quick: bool) -> Line:
    unit_ids = [f"U{number:06d}" for number in range(size)]
    with ExitStack() as stack:
        root = Path(stack.enter_context(tempfile.TemporaryDirectory()))
        revision = _revision(stack, root)

        def made() -> str:
            """Make a register like the others: a signed revision, an owner and a judged unit for each event."""
            folder = Path(tempfile.mkdtemp(dir=root))
            address = stack.enter_context(registers.an_address(engine, folder))
            register = open_register(address, now=MORNING)
            with register.change() as tx:
                tx.papers.put_revision(revision)
            _furnish(register, unit_ids)
            register.close()
            return address

        def ours(address: str) -> Callable[[], object]:
            register = open_register(address, now=MORNING)

            def work() -> None:
                for unit_id in unit_ids:
                    with register.change() as tx:
                        record(tx, [_said(unit_id)], now=_AT)
                register.close()

            return work

        def bare(address: str, rows: yardsticks.Recorded) -> Callable[[], object]:
            return lambda: yardsticks.record_one_by_one(address, rows)

        one, other = made(), made()
        ours(one)()
        rows = yardsticks.recorded(one, "use_stated")
        bare(other, rows)()
        assert len(rows.events) == len(rows.cases) == size
        assert yardsticks.recorded(other, "use_stated") == rows
        ratio = 1 / slowness(
            lambda: ours(made()), lambda: bare(made(), rows), clock=wall, rounds=1 if quick else ROUNDS
        )
    bound = Bound(limit=0.5, at_least=True)
    return Line(name=f"one-event-{engine}", ratio=ratio, bound=bound, size=size, clock="wall")


def _revision(stack: ExitStack, root: Path) -> RevisionRow:
    owners = stack.enter_context(owners_world(root))
    with owners.world.register.look() as tx:
        found = tx.papers.revision()
    assert found is not None
    return found


def many_cases(*, quick: bool) -> Iterator[Line]:
    """Compare the grid and the list of what is due with bare SQL that counts and joins the same."""
    size = 300 if quick else 100_000
    with ExitStack() as stack:
        owners = stack.enter_context(owners_world(Path(stack.enter_context(tempfile.TemporaryDirectory()))))
        world = owners.world
        _furnish(world.register, [f"U{number:06d}" for number in range(size)])
        _live(world.register, size)
        owners.clock.forward(timedelta(days=4))
        file = str(world.folder.root / "register.db")  # type: ignore[attr-defined]  # a folder on a disk
        today = owners.clock().date()
        standing, what = status(world), due(world)
        assert _counted(standing) == yardsticks.count_cases(file)
        steps = [(s.unit_id, s.step, s.channel, s.on.isoformat(), s.why, s.owner, s.to) for s in what.steps]
        next_on = what.next_on.isoformat() if what.next_on else None
        assert (steps, (what.later, next_on)) == yardsticks.due_list(file, today.isoformat())
        assert what.steps
        rounds = 1 if quick else ROUNDS
        ratio = slowness(
            ready(lambda: status(world)), ready(lambda: yardsticks.count_cases(file)), rounds=rounds
        )
        yield Line(name="grid", ratio=ratio, bound=Bound(limit=1.5), size=size, clock="cpu")
        ratio = slowness(
            ready(lambda: due(world)),
            ready(lambda: yardsticks.due_list(file, today.isoformat())),
            rounds=rounds,
        )
        yield Line(name="due-list", ratio=ratio, bound=Bound(limit=1.5), size=size, clock="cpu")


def _live(register: Register, size: int) -> None:
    """Let a tenth of the owners say something, each in another way, and a fiftieth hold a unit with symptoms."""
    said: list[NewEvent] = []
    for number in range(0, size, 10):
        kind, payload = _STORIES[number // 10 % len(_STORIES)]
        said.append(
            NewEvent(
                stream=unit_stream(f"U{number:06d}"),
                kind=kind,
                at=_AT,
                actor="owner",
                via="page",
                payload=payload,
            )
        )
    with register.change() as tx:
        record(tx, said, now=_AT)


def _counted(found: Status) -> tuple[dict[str, int], dict[str, int]]:
    """Return the cells of the grid that are not empty, and the figures beside it that are not naught."""
    here = found.standing
    cells = {
        f"{segment} {stage}": count for segment, row in here.grid.items() for stage, count in row.items()
    }
    figures = {
        "in_hands": here.in_hands,
        "cleared": here.cleared,
        "put_away": here.put_away,
        "owner_unknown": here.owner_unknown - here.sold + here.listed,
        **here.stopped,
        **{f"ended {ending}": count for ending, count in here.endings.items()},
    }
    return {key: n for key, n in cells.items() if n}, {key: n for key, n in figures.items() if n}
