"""The quick form of the matrix, and that it would notice: a harness that cannot fail proves nothing."""

import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from notices.cases.outgoing import Outcome
from notices.cases.records import PostingState, Try
from notices.work.ports import World
from notices.work.sending import send
from tests import needs
from tests.faults import laws, matrix, servers
from tests.faults.laws import Killing, Ledger
from tests.faults.windows import Window
from tests.sending_world import START, Clock, TellingWay, a_plan, a_world, fill

LEASE = START + timedelta(minutes=15)
TAKEN = Outcome(result="handed_over", code=250)


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def world(tmp_path: Path, clock: Clock) -> Iterator[World]:
    made = a_world(tmp_path, clock)
    yield made
    made.register.close()


def test_killed_in_every_window_nobody_is_lost_and_nobody_gets_two_but_in_doubt(tmp_path: Path) -> None:
    if sys.platform != "linux":
        needs.missing("the mail server finds whom to kill by proc(5), which only Linux has")
    size, wanted = matrix.quick()
    verdicts = list(matrix.run(size, wanted, tmp_path))

    assert [one.ledger.broken for one in verdicts] == [[] for _ in wanted], matrix.table(verdicts)


def test_servers_that_misbehave_end_the_command_in_one_line(tmp_path: Path) -> None:
    found = servers.run(servers.QUICK, tmp_path)

    assert [one.broken for one in found] == [[] for _ in servers.QUICK], servers.table(found)


def broken(
    world: World, *, copies: dict[str, int], pid: int = 7, window: Window = Window.MAIL, connections: int = 1
) -> list[str]:
    """Return the laws that do not hold after a kill, *copies* having been taken by owners' numbers."""
    ledger = Ledger(connections=connections)
    killing = Killing(window=window, pid=pid, address="", before="", living=frozenset())
    laws.after_a_kill(ledger, killing, world.register, world.now(), lambda: Counter(copies))
    return [one.split(": ", 1)[1].rsplit(":", 1)[0] for one in ledger.broken]


def begun(world: World, *, worker: str, count: int = 1) -> None:
    """Record the tries of a sender that then ends."""
    with world.register.change() as tx:
        claimed = tx.outbox.claim(worker, channel="email", now=START, lease_until=LEASE, limit=count)
        for one in claimed:
            tx.outbox.begin(Try(posting_id=one.posting_id, n=1, began_at=START))


def test_what_a_killed_sender_leaves_breaks_no_law(world: World) -> None:
    fill(world, 2)
    begun(world, worker="here:7:a")

    assert broken(world, copies={"owner2@owner.example": 1}) == []


def test_two_in_doubt_by_one_connection_are_noticed(world: World) -> None:
    fill(world, 3)
    begun(world, worker="here:7:a", count=2)

    assert broken(world, copies={}) == ["more in doubt than connections"]


def test_a_try_of_nobody_we_know_is_noticed(world: World) -> None:
    fill(world, 1)
    begun(world, worker="here:8:b")

    assert broken(world, copies={}) == ["a try under no living lease"]


def test_a_copy_that_the_register_does_not_know_is_noticed(world: World) -> None:
    fill(world, 1)

    assert broken(world, copies={"owner1@owner.example": 1}) == [
        "taken, but the register does not know",
        "more copies than told and in doubt",
    ]


def test_a_second_copy_to_somebody_told_is_noticed(world: World, clock: Clock) -> None:
    fill(world, 1)
    send(world, TellingWay([TAKEN]), a_plan(clock))

    assert broken(world, copies={"owner1@owner.example": 2}) == [
        "twice without a doubt",
        "more copies than told and in doubt",
    ]


def test_somebody_who_counts_as_told_and_has_nothing_is_noticed(world: World, clock: Clock) -> None:
    fill(world, 1)
    send(world, TellingWay([TAKEN]), a_plan(clock))

    assert broken(world, copies={}) == ["counts as told, but no copy was taken"]


def test_a_posting_told_without_its_event_is_noticed(world: World) -> None:
    fill(world, 1)
    with world.register.change() as tx:
        one = next(tx.outbox.postings())
        tx.outbox.settle(replace(one, state=PostingState.HANDED_OVER), None)

    assert broken(world, copies={"owner1@owner.example": 1}) == ["handed over without its event"]
