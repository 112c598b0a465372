"""The outbox on every engine: nothing twice, a claim is not a try, no posting in two hands."""

import multiprocessing
from collections import Counter
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor, wait
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest

from notices.cases.records import PostingState, Told, Try
from notices.store import SqlRegister, open_register
from tests.registers import BROKEN, NOW, a_posting, a_saying, a_variant, about, furnish

LEASE = NOW + timedelta(minutes=15)
SOON = NOW + timedelta(minutes=1)


@pytest.fixture
def filled(register: SqlRegister) -> SqlRegister:
    """Give a register with an owner, a variant and three units."""
    with register.change() as tx:
        furnish(tx, units=3)
    return register


def _put(register: SqlRegister, *posting_ids: str, **differences: Any) -> None:  # noqa: ANN401 - as a record's fields
    with register.change() as tx:
        for posting_id in posting_ids:
            posting = a_posting(posting_id, **differences)
            assert tx.outbox.add(posting, [about(posting, occasion=f"stop {posting_id}")])


def _claim(register: SqlRegister, worker: str = "w", *, limit: int = 10, channel: str = "email") -> list[str]:
    with register.change() as tx:
        found = tx.outbox.claim(worker, channel=channel, now=NOW, lease_until=LEASE, limit=limit)
    return [posting.posting_id for posting in found]


def test_a_posting_comes_back_as_it_was_put(filled: SqlRegister) -> None:
    posting = a_posting("P1", not_before=SOON, fill='{"owner":"Ada % {{x}} <b>"}')
    with filled.change() as tx:
        put = tx.outbox.add(posting, [about(posting, "U2"), about(posting, "U1")])

    assert put
    with filled.look() as tx:
        assert list(tx.outbox.postings()) == [posting]
        assert tx.record.units_of(["P1", "P9"]) == {"P1": [about(posting, "U1"), about(posting, "U2")]}


def test_nothing_is_put_twice_and_then_nothing_of_it(filled: SqlRegister) -> None:
    first = a_posting("P1")
    second = a_posting("P2")
    with filled.change() as tx:
        assert tx.outbox.add(first, [about(first, "U1")])
        assert not tx.outbox.add(second, [about(second, "U2"), about(second, "U1"), about(second, "U3")])

    with filled.look() as tx:
        assert list(tx.outbox.postings()) == [first]
        assert tx.record.units_of(["P1", "P2"]) == {"P1": [about(first, "U1")]}


def test_the_key_of_a_withdrawn_posting_is_free(filled: SqlRegister) -> None:
    first, second = a_posting("P1"), a_posting("P2")
    with filled.change() as tx:
        tx.outbox.add(first, [about(first)])
        tx.outbox.settle(replace(first, state=PostingState.WITHDRAWN), None)
        again = tx.outbox.add(second, [about(second)])
        third = tx.outbox.add(a_posting("P3"), [about(a_posting("P3"))])

    assert (again, third) == (True, False)


def test_another_occasion_or_address_is_another_posting(filled: SqlRegister) -> None:
    first, second, third = a_posting("P1"), a_posting("P2"), a_posting("P3", address="ada@example.net")
    with filled.change() as tx:
        put = [
            tx.outbox.add(first, [about(first)]),
            tx.outbox.add(second, [about(second, occasion="correct/2")]),
            tx.outbox.add(third, [about(third)]),
        ]

    assert put == [True, True, True]


def test_a_posting_is_about_something_and_has_its_own_name(filled: SqlRegister) -> None:
    first, second = a_posting("P1"), a_posting("P2")
    for units in ([], [about(second)]):
        with pytest.raises(ValueError, match="at least one unit"), filled.change() as tx:
            tx.outbox.add(first, units)
    _put(filled, "P1")
    with pytest.raises(BROKEN), filled.change() as tx:
        tx.outbox.add(first, [about(first, occasion="first")])


def test_no_two_postings_bear_one_message_id(filled: SqlRegister) -> None:
    _put(filled, "P1")

    twin = a_posting("P2", message_id="<P1@example.org>")
    with pytest.raises(BROKEN), filled.change() as tx:
        tx.outbox.add(twin, [about(twin)])


def test_a_claim_takes_the_most_urgent_first_and_no_more_than_asked(filled: SqlRegister) -> None:
    _put(filled, "P3", "P1", rank=2)
    _put(filled, "P4", rank=0)
    _put(filled, "P2", rank=2)

    assert _claim(filled, limit=3) == ["P4", "P1", "P2"]
    assert _claim(filled, limit=3) == ["P3"]
    assert _claim(filled, limit=3) == []


def test_a_claim_leaves_what_is_not_due_not_waiting_or_of_another_channel(filled: SqlRegister) -> None:
    _put(filled, "DUE", not_before=NOW)
    _put(filled, "LATER", not_before=NOW + timedelta(microseconds=1))
    _put(filled, "WITHDRAWN", state=PostingState.WITHDRAWN)
    _put(filled, "LETTER", channel="letter")

    assert _claim(filled) == ["DUE"]
    assert _claim(filled, channel="letter") == ["LETTER"]


def test_a_lease_holds_until_it_has_run_out(filled: SqlRegister) -> None:
    _put(filled, "P1")
    with filled.change() as tx:
        (mine,) = tx.outbox.claim("one", channel="email", now=NOW, lease_until=LEASE, limit=1)
        before = tx.outbox.claim("two", channel="email", now=SOON, lease_until=LEASE, limit=1)
        after = tx.outbox.claim(
            "two", channel="email", now=LEASE, lease_until=LEASE + timedelta(minutes=15), limit=1
        )

    assert (mine.worker, mine.lease_until, mine.state, mine.tries) == ("one", LEASE, PostingState.WAITING, 0)
    assert before == []
    assert [posting.worker for posting in after] == ["two"]


def test_a_try_is_recorded_before_it_begins_and_only_while_the_posting_waits(filled: SqlRegister) -> None:
    _put(filled, "P1")
    attempt = Try(posting_id="P1", n=1, began_at=NOW)
    with filled.change() as tx:
        begun = tx.outbox.begin(attempt)
        again = tx.outbox.begin(replace(attempt, n=2))
        unknown = tx.outbox.begin(replace(attempt, posting_id="P9"))

    assert (begun, again, unknown) == (True, False, False)
    with filled.look() as tx:
        assert tx.record.tries() == [attempt]
        (posting,) = tx.outbox.postings(state=PostingState.TRYING)
        assert posting.tries == 1


def test_a_try_of_a_transaction_that_failed_never_was(filled: SqlRegister) -> None:
    _put(filled, "P1")

    def fail() -> None:
        with filled.change() as tx:
            tx.outbox.begin(Try(posting_id="P1", n=1, began_at=NOW))
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fail()
    with filled.look() as tx:
        assert tx.record.tries() == []
        assert [posting.state for posting in tx.outbox.postings()] == [PostingState.WAITING]


def test_settling_writes_what_became_of_posting_and_try(filled: SqlRegister) -> None:
    _put(filled, "P1")
    attempt = Try(posting_id="P1", n=1, began_at=NOW)
    ended = replace(attempt, ended_at=SOON, outcome="later", code=451, enhanced="4.7.1", reply="come back")
    later = a_posting("P1", why="451", not_before=LEASE, tries=1)
    with filled.change() as tx:
        tx.outbox.claim("w", channel="email", now=NOW, lease_until=LEASE, limit=1)
        tx.outbox.begin(attempt)
        tx.outbox.settle(later, ended)

    with filled.look() as tx:
        assert tx.record.tries(["P1"]) == [ended]
        assert list(tx.outbox.postings()) == [later]
    with filled.change() as tx:
        tx.outbox.settle(replace(later, state=PostingState.WITHDRAWN, not_before=None, why="passed on"), None)
    with filled.look() as tx:
        assert [(one.state, one.why) for one in tx.outbox.postings()] == [
            (PostingState.WITHDRAWN, "passed on")
        ]
        assert tx.record.tries(["P1"]) == [ended]


def test_what_is_not_in_the_outbox_cannot_be_settled(filled: SqlRegister) -> None:
    _put(filled, "P1")
    attempt = Try(posting_id="P1", n=1, began_at=NOW)

    with pytest.raises(LookupError), filled.change() as tx:
        tx.outbox.settle(a_posting("P9"), None)
    with pytest.raises(LookupError), filled.change() as tx:
        tx.outbox.settle(a_posting("P1", state=PostingState.REFUSED), attempt)
    with filled.look() as tx:
        assert [posting.state for posting in tx.outbox.postings()] == [PostingState.WAITING]


def test_what_has_changed_since_it_was_read_is_not_settled(filled: SqlRegister) -> None:
    _put(filled, "P1")
    attempt = Try(posting_id="P1", n=1, began_at=NOW)
    with filled.change() as tx:
        mine = tx.outbox.claim("me", channel="email", now=NOW, lease_until=SOON, limit=1)[0]
        theirs = tx.outbox.claim("they", channel="email", now=SOON, lease_until=LEASE, limit=1)[0]
        tx.outbox.begin(attempt)
        given_back = tx.outbox.settle(replace(mine, worker=None, lease_until=None), None, since=mine)
        ended = replace(attempt, ended_at=SOON, outcome="in_doubt")
        other_state = tx.outbox.settle(replace(theirs, state=PostingState.IN_DOUBT), ended, since=theirs)

    assert (given_back, other_state) == (False, False)
    with filled.look() as tx:
        trying = replace(theirs, state=PostingState.TRYING, tries=1)
        assert list(tx.outbox.postings()) == [trying]
        assert tx.record.tries() == [attempt]
    with filled.change() as tx:
        assert tx.outbox.settle(replace(trying, state=PostingState.IN_DOUBT), ended, since=trying)


def test_of_two_who_settle_at_once_the_later_sees_what_the_first_has_left(filled: SqlRegister) -> None:
    _put(filled, "P1")
    with filled.look() as tx:
        read = next(tx.outbox.postings())

    def withdraw() -> bool:
        with filled.change() as tx:
            return tx.outbox.settle(replace(read, state=PostingState.WITHDRAWN), None, since=read)

    with ThreadPoolExecutor(1) as pool:
        with filled.change() as tx:
            tx.outbox.settle(replace(read, state=PostingState.REFUSED), None, since=read)
            later = pool.submit(withdraw)
            wait([later], timeout=0.3)
        settled = later.result()

    assert not settled
    with filled.look() as tx:
        assert [one.state for one in tx.outbox.postings()] == [PostingState.REFUSED]


def test_postings_come_by_rank_and_id_and_may_be_settled_meanwhile(filled: SqlRegister) -> None:
    _put(filled, *(f"P{n:04}" for n in range(2_100)), rank=1)
    _put(filled, "Z", rank=0)
    _put(filled, "A", rank=2)
    seen = []
    with filled.change() as tx:
        for posting in tx.outbox.postings(state=PostingState.WAITING):
            seen.append(posting.posting_id)
            tx.outbox.settle(replace(posting, state=PostingState.WITHDRAWN), None)

    assert seen == ["Z", *(f"P{n:04}" for n in range(2_100)), "A"]
    with filled.look() as tx:
        assert list(tx.outbox.postings(state=PostingState.WAITING)) == []
        assert [p.posting_id for p in tx.outbox.postings(posting_ids=["A", "P0003", "Z", "?"])] == [
            "Z",
            "P0003",
            "A",
        ]
        assert list(tx.outbox.postings(state=PostingState.WAITING, posting_ids=["A"])) == []


def test_what_was_told_names_the_saying_and_comes_oldest_first(filled: SqlRegister) -> None:
    with filled.change() as tx:
        tx.variants.put(
            [a_variant("F2", said="SAID2", kind="first"), a_variant("F3", said="", kind="confirm")],
            sayings=[a_saying("SAID2", level=3)],
        )
    _put(filled, "A-WAITS", fingerprint="F3")
    _put(filled, "B-SECOND", fingerprint="F2")
    _put(filled, "C-FIRST")
    with filled.change() as tx:
        for posting_id, at in (("C-FIRST", NOW), ("B-SECOND", SOON)):
            attempt = Try(posting_id=posting_id, n=1, began_at=at)
            tx.outbox.begin(attempt)
            if posting_id == "C-FIRST":
                sent = a_posting(posting_id, state=PostingState.HANDED_OVER)
                tx.outbox.settle(
                    sent, replace(attempt, ended_at=at + timedelta(seconds=2), outcome="handed_over")
                )

    with filled.look() as tx:
        told = tx.record.told()
        assert tx.record.told(["U1"]) == told
        assert tx.record.told(["U2"]) == []
    common = {"unit_id": "U1", "owner_id": "OWNER1", "verdict": "affected", "segment": "unknown"}
    assert told == [
        Told(
            **common,
            occasion="stop C-FIRST",
            posting_id="C-FIRST",
            state=PostingState.HANDED_OVER,
            kind="stop",
            said="SAID1",
            level=2,
            at=NOW + timedelta(seconds=2),
        ),
        Told(
            **common,
            occasion="stop B-SECOND",
            posting_id="B-SECOND",
            state=PostingState.TRYING,
            kind="first",
            said="SAID2",
            level=3,
            at=SOON,
        ),
        Told(
            **common,
            occasion="stop A-WAITS",
            posting_id="A-WAITS",
            state=PostingState.WAITING,
            kind="confirm",
            said="",
            level=0,
            at=None,
        ),
    ]


def claim_until_none(address: str, worker: str, start: Callable[[], object]) -> None:
    """Claim and begin by twenties, from a process of its own, until nothing waits."""
    register = open_register(address, now=NOW)
    start()
    while True:
        with register.change() as tx:
            mine = tx.outbox.claim(worker, channel="email", now=NOW, lease_until=LEASE, limit=20)
        if not mine:
            break
        assert len(mine) <= 20
        with register.change() as tx:
            for posting in mine:
                assert posting.worker == worker
                assert tx.outbox.begin(Try(posting_id=posting.posting_id, n=1, began_at=NOW, reply=worker))
    register.close()


def test_processes_that_claim_at_once_never_get_the_same_posting(address: str, filled: SqlRegister) -> None:
    _put(filled, *(f"P{n:04}" for n in range(600)))
    workers = ("a", "b", "c")
    context = multiprocessing.get_context("spawn")
    barrier = context.Barrier(len(workers))
    running = [
        context.Process(target=claim_until_none, args=(address, worker, barrier.wait)) for worker in workers
    ]
    for process in running:
        process.start()
    for process in running:
        process.join(timeout=120)

    assert [process.exitcode for process in running] == [0, 0, 0]
    with filled.look() as tx:
        tries = tx.record.tries()
        owners = {posting.posting_id: posting.worker for posting in tx.outbox.postings()}
    assert len(tries) == 600
    assert all(owners[attempt.posting_id] == attempt.reply for attempt in tries)
    assert set(Counter(owners.values())) <= set(workers)


def test_processes_that_put_the_same_notice_at_once_put_it_once(address: str, filled: SqlRegister) -> None:
    context = multiprocessing.get_context("spawn")
    barrier = context.Barrier(2)
    running = [context.Process(target=put_all, args=(address, who, barrier.wait)) for who in "ab"]
    for process in running:
        process.start()
    for process in running:
        process.join(timeout=120)

    assert [process.exitcode for process in running] == [0, 0]
    with filled.look() as tx:
        assert len({one.occasion for one in tx.record.told()}) == 50
        assert len(list(tx.outbox.postings())) == 50


def put_all(address: str, who: str, start: Callable[[], object]) -> None:
    """Put fifty notices, the same in each process, each in a transaction of its own."""
    register = open_register(address, now=NOW)
    start()
    for n in range(50):
        posting = a_posting(f"{who}{n}")
        with register.change() as tx:
            tx.outbox.add(posting, [about(posting, unit, occasion=f"stop {n}") for unit in ("U1", "U2")])
    register.close()
