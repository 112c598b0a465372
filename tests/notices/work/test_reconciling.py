"""An older register and the mail it does not know of: refused, settled, and nobody skipped."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from notices.cases.outgoing import Outcome, RegisterError
from notices.cases.records import Try
from notices.sending.folder import FolderWay
from notices.work import dispatching, marks, reconciling
from notices.work.marks import Mark
from notices.work.ports import World
from notices.work.reconciling import Reconciled
from notices.work.sending import Sent, send
from notices.work.ways_out import WayOut
from tests.sending_world import Clock, TellingWay, a_plan, a_world, fill, states

MINUTE = timedelta(minutes=1)


class OneFile:
    """A campaign folder that holds the mark alone; its disk may be full."""

    def __init__(self) -> None:
        self.left: bytes | None = None
        self.full = False

    def read(self, name: str) -> bytes | None:
        """Return the mark."""
        assert name == "last-run.json"
        return self.left

    def write(self, name: str, data: bytes) -> None:
        """Keep the mark, where there is room."""
        assert name == "last-run.json"
        if self.full:
            raise OSError(28, "No space left on device")
        self.left = data

    def names(self, below: str) -> list[str]:
        """Refuse: nobody looks for files here."""
        raise AssertionError(below)


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def folder() -> OneFile:
    return OneFile()


@pytest.fixture
def world(tmp_path: Path, clock: Clock, folder: OneFile) -> Iterator[World]:
    made = replace(a_world(tmp_path, clock), folder=folder)
    yield made
    made.register.close()


def going(world: World, clock: Clock, way: WayOut, **changes: object) -> Sent:
    return send(world, way, a_plan(clock, mark=lambda mark: marks.write(world.folder, mark), **changes))


def mark_of(world: World) -> Mark:
    with world.register.look() as tx:
        return marks.of(tx)


def older(world: World, folder: OneFile, *, tries: int = 1, run: int = 0) -> None:
    """Let the mark tell of more than the register knows."""
    mark = mark_of(world)
    marks.write(folder, replace(mark, tries=mark.tries + tries, run=mark.run + run))


def test_a_run_leaves_the_number_of_its_tries_before_each_message_leaves(
    world: World, clock: Clock, folder: OneFile
) -> None:
    fill(world, 3)
    seen: list[bytes | None] = []
    going(world, clock, TellingWay(during=lambda _parcel: seen.append(folder.left)))

    made_at = '"register":"2026-03-03T09:00:00.000000Z","run":1'
    assert seen == [f'{{{made_at},"tries":{count}}}'.encode() for count in (1, 2, 3)]
    assert marks.why_not(world) is None


def test_a_mark_that_cannot_be_left_stops_the_run_and_loses_nothing(
    world: World, clock: Clock, folder: OneFile
) -> None:
    fill(world, 3)
    folder.full = True
    way = TellingWay()
    stopped = going(world, clock, way)
    folder.full = False
    counts = states(world)
    going(world, clock, way)

    assert stopped.stopped_because == (
        "last-run.json cannot be written in the campaign folder (No space left on device)"
    )
    assert counts == {"waiting": 3}
    assert (len(way.parcels), states(world)) == (3, {"handed_over": 3})


def test_tries_that_nobody_counted_are_counted_once(world: World) -> None:
    fill(world, 2)
    with world.register.change() as tx:
        tx.outbox.begin(Try(posting_id="P0001", n=1, began_at=world.now()))
        first = marks.count(tx, 1)
    with world.register.change() as tx:
        tx.outbox.begin(Try(posting_id="P0002", n=1, began_at=world.now()))
        second = marks.count(tx, 1)

    assert (first.tries, second.tries) == (1, 2)


@pytest.mark.parametrize(
    ("tries", "run", "words"),
    [
        (1, 0, "(run 1 of 1, try 2 of 3)"),
        (0, 1, "(run 1 of 2, try 2 of 2)"),
        (198, 4, "(run 1 of 5, try 2 of 200)"),
    ],
)
def test_an_older_register_is_not_sent_from(
    tries: int, run: int, words: str, world: World, clock: Clock, folder: OneFile
) -> None:
    fill(world, 2)
    going(world, clock, TellingWay())
    older(world, folder, tries=tries, run=run)

    with pytest.raises(RegisterError) as refused:
        dispatching.ready(world)
    assert str(refused.value) == (
        f"this register is older than the mail sent from it {words}; run notices outbox reconcile first, "
        "with --maildir DIR or --folder DIR where copies of what was sent lie"
    )


@pytest.mark.parametrize(
    "left", [b"", b"{", b"[]", b'{"register":"x"}', b'{"register":"x","run":"a","tries":1}']
)
def test_a_mark_that_cannot_be_read_holds_sending_back(left: bytes, world: World, folder: OneFile) -> None:
    folder.left = left

    with pytest.raises(RegisterError, match="cannot be read, and this register may not know"):
        marks.hold_back(world)


def test_the_mark_of_another_register_holds_sending_back(world: World, folder: OneFile) -> None:
    marks.write(folder, Mark(register="another", run=0, tries=0))

    with pytest.raises(RegisterError, match="tells of another register than this one"):
        marks.hold_back(world)


def test_a_register_that_is_ahead_of_its_mark_goes_on(world: World, clock: Clock, folder: OneFile) -> None:
    fill(world, 2)
    going(world, clock, TellingWay())
    older(world, folder, tries=-1)

    assert marks.why_not(world) is None


def test_what_was_waiting_goes_once_more_under_its_old_name_and_a_reminder_does_not(
    world: World, clock: Clock, folder: OneFile
) -> None:
    fill(world, 3)
    fill(world, 2, occasion="remind/mail", first=4)
    older(world, folder)
    done = reconciling.reconcile(world, {})
    at_once = TellingWay()
    going(world, clock, at_once)
    clock.at += 31 * MINUTE
    way = TellingWay()
    going(world, clock, way)

    assert done == Reconciled(needed=True, found=0, in_doubt=5, waiting=0, unknown=0)
    assert at_once.parcels == []
    assert sorted(one.message_id for one in way.parcels) == [f"<p000{n}@aldmere.example>" for n in (1, 2, 3)]
    assert states(world) == {"handed_over": 3, "in_doubt": 2}
    assert marks.why_not(world) is None


def test_what_is_found_counts_as_handed_over_on_the_day_it_was_sent(
    world: World, clock: Clock, folder: OneFile
) -> None:
    fill(world, 3)
    older(world, folder)
    clock.at += timedelta(days=3)
    sent = datetime(2026, 3, 4, 10, 0, tzinfo=UTC)
    found = reconciling.reconcile(
        world,
        {"<p0001@aldmere.example>": sent, "<p0002@aldmere.example>": None, "<else@where.example>": sent},
    )
    with world.register.look() as tx:
        events = [tx.events.stream(f"unit:{unit}")[-1] for unit in ("U0001", "U0002")]
        case = tx.cases.get(["U0001"])["U0001"].case
        tries = tx.record.tries(["P0001"])

    assert found == Reconciled(needed=True, found=2, in_doubt=1, waiting=0, unknown=0)
    assert [(event.kind, event.at) for event in events] == [
        ("notice_handed_over", sent),
        ("notice_handed_over", clock.at),
    ]
    assert (case.stage.key, case.first_on) == ("notified", sent.date())
    assert [(one.n, one.ended_at, one.outcome) for one in tries] == [(1, sent, "handed_over")]


def test_a_message_from_the_future_was_sent_now(world: World, clock: Clock, folder: OneFile) -> None:
    fill(world, 1)
    older(world, folder)
    reconciling.reconcile(world, {"<p0001@aldmere.example>": clock.at + timedelta(days=400)})
    with world.register.look() as tx:
        event = tx.events.stream("unit:U0001")[-1]

    assert event.at == clock.at


def test_a_try_that_was_going_on_at_the_backup_is_in_doubt(
    world: World, clock: Clock, folder: OneFile
) -> None:
    fill(world, 1)
    with world.register.change() as tx:
        tx.outbox.claim("x:1:1", channel="email", now=clock.at, lease_until=clock.at + 15 * MINUTE, limit=1)
        tx.outbox.begin(Try(posting_id="P0001", n=1, began_at=clock.at))
    older(world, folder)
    reconciling.reconcile(world, {})
    clock.at += 31 * MINUTE
    way = TellingWay()
    going(world, clock, way)

    assert (len(way.parcels), states(world)) == (1, {"handed_over": 1})


def test_a_second_copy_that_was_owed_at_the_backup_is_owed_still(
    world: World, clock: Clock, folder: OneFile
) -> None:
    fill(world, 1)
    going(world, clock, TellingWay([Outcome(result="in_doubt", reply="the answer was lost")]))
    clock.at += 31 * MINUTE
    going(world, clock, TellingWay(), halted=lambda: "stopped before it went")
    assert states(world) == {"waiting": 1}
    older(world, folder)
    done = reconciling.reconcile(world, {})

    assert (done.in_doubt, done.waiting, states(world)) == (0, 1, {"waiting": 1})


def test_where_nothing_is_amiss_only_doubts_are_settled(world: World, clock: Clock) -> None:
    fill(world, 3)
    way = TellingWay([Outcome(result="in_doubt", reply="the answer was lost")])
    going(world, clock, way, halted=lambda: "enough" if way.parcels else None)
    before = states(world)
    doubtful = way.parcels[0].message_id
    done = reconciling.reconcile(world, {doubtful: None})

    assert before == {"in_doubt": 1, "waiting": 2}
    assert done == Reconciled(needed=False, found=1, in_doubt=0, waiting=2, unknown=0)
    assert states(world) == {"handed_over": 1, "waiting": 2}


def test_reconciling_twice_changes_nothing_more(world: World, folder: OneFile) -> None:
    fill(world, 2)
    older(world, folder)
    reconciling.reconcile(world, {"<p0001@aldmere.example>": None})
    once = states(world)
    again = reconciling.reconcile(world, {"<p0001@aldmere.example>": None})

    assert again == Reconciled(needed=False, found=0, in_doubt=0, waiting=0, unknown=0)
    assert states(world) == once == {"handed_over": 1, "in_doubt": 1}


def test_messages_of_ours_that_the_register_does_not_know_are_counted(world: World, folder: OneFile) -> None:
    older(world, folder)
    done = reconciling.reconcile(
        world,
        {
            "<01hzx3k9m2p4q6r8s0t1v2w3y4@aldmere.example>": None,
            "<01HZX3K9M2P4Q6R8S0T1V2W3Y4@aldmere.example>": None,
            "<a-colleague's-mail@aldmere.example>": None,
        },
    )

    assert (done.found, done.unknown) == (0, 1)
    assert reconciling.as_json(done) == {
        "needed": True,
        "found": 0,
        "in_doubt": 0,
        "waiting": 0,
        "unknown": 1,
    }


def test_a_letter_is_no_business_of_the_mail(world: World, folder: OneFile) -> None:
    fill(world, 1, channel="letter")
    older(world, folder)
    reconciling.reconcile(world, {})

    assert states(world) == {"waiting": 1}


def test_a_folder_says_for_certain_so_nothing_waits_half_an_hour(
    world: World, clock: Clock, folder: OneFile, tmp_path: Path
) -> None:
    fill(world, 3)
    older(world, folder)
    reconciling.reconcile(world, {})
    way = FolderWay(tmp_path / "mails")
    sent = going(world, clock, way)

    assert sent.handed_over == 3
    assert len(list((tmp_path / "mails").glob("*.eml"))) == 3
