"""The record on every engine: chained, numbered without gaps, append-only, each key standing a single time."""

import multiprocessing
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest
from sqlalchemy import text
from sqlalchemy.exc import DBAPIError

from audiences import canonical
from notices.cases.events import chained
from notices.store import SqlRegister, open_register
from notices.store.event_log import EventLog
from tests.registers import NOW, an_event

LATER = NOW + timedelta(hours=1)


def test_each_event_is_chained_to_the_one_before_it_in_its_stream(register: SqlRegister) -> None:
    with register.change() as tx:
        tx.events.append([an_event("unit:U1"), an_event("unit:U2"), an_event("unit:U1")], recorded_at=NOW)
        tx.events.append([an_event("unit:U1", minutes=5)], recorded_at=LATER)

    with register.look() as tx:
        first, second, third = tx.events.stream("unit:U1")
        (alone,) = tx.events.stream("unit:U2")
    assert first == chained(an_event("unit:U1"), seq=1, recorded_at=NOW, before="")
    assert second == chained(an_event("unit:U1"), seq=2, recorded_at=NOW, before=first.hash)
    assert third == chained(an_event("unit:U1", minutes=5), seq=3, recorded_at=LATER, before=second.hash)
    assert alone == chained(an_event("unit:U2"), seq=1, recorded_at=NOW, before="")


def test_what_is_stored_is_returned_as_it_will_be_read(register: SqlRegister) -> None:
    berlin = datetime(2026, 3, 2, 10, 0, tzinfo=timezone(timedelta(hours=1)))
    with register.change() as tx:
        stored = tx.events.append(
            [an_event(segment="symptomatic", signs=False), an_event(once="nonce 1")], recorded_at=berlin
        )

    with register.look() as tx:
        assert tx.events.stream("unit:U1") == stored
    assert stored[0].recorded_at == datetime(2026, 3, 2, 9, 0, tzinfo=UTC)


def test_an_event_that_arrives_twice_stands_once(register: SqlRegister) -> None:
    with register.change() as tx:
        first = tx.events.append([an_event(once="n1"), an_event(once="n1"), an_event()], recorded_at=NOW)
        again = tx.events.append([an_event("owner:A", once="n1"), an_event(once="n2")], recorded_at=NOW)

    assert [(event.seq, event.once) for event in first] == [(1, "n1"), (2, None)]
    assert [(event.stream, event.seq, event.once) for event in again] == [("unit:U1", 3, "n2")]
    with register.look() as tx:
        assert (tx.events.has("n1"), tx.events.has("n2"), tx.events.has("n3")) == (True, True, False)
        assert tx.events.stream("owner:A") == []


def test_a_key_whose_transaction_failed_is_free_again(register: SqlRegister) -> None:
    def fail() -> None:
        with register.change() as tx:
            tx.events.append([an_event(once="n1")], recorded_at=NOW)
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fail()
    with register.change() as tx:
        stored = tx.events.append([an_event(once="n1")], recorded_at=NOW)

    assert [event.seq for event in stored] == [1]


def test_the_moment_of_recording_never_goes_back_in_a_stream(register: SqlRegister) -> None:
    with register.change() as tx:
        tx.events.append([an_event("unit:U1")], recorded_at=LATER)
        stored = tx.events.append([an_event("unit:U1"), an_event("unit:U2")], recorded_at=NOW)

    assert [event.recorded_at for event in stored] == [LATER, NOW]


def test_a_stream_can_be_read_as_it_was_known_at_a_moment(register: SqlRegister) -> None:
    just_after = LATER + timedelta(microseconds=1)
    with register.change() as tx:
        for at in (NOW, LATER, just_after):
            tx.events.append([an_event()], recorded_at=at)

    with register.look() as tx:
        assert [event.seq for event in tx.events.stream("unit:U1", until=LATER)] == [1, 2]
        assert [[event.seq for event in one] for one in tx.events.streams("", until=NOW)] == [[1]]
        assert tx.events.stream("unit:U1", until=NOW - timedelta(days=1)) == []


def test_streams_come_by_name_and_only_those_that_begin_alike(register: SqlRegister) -> None:
    names = ["unit:b", "campaign", "unit:B", "owner:A", "unit:_", "unitary", "unit:é"]
    with register.change() as tx:
        tx.events.append([an_event(name) for name in names for _ in range(2)], recorded_at=NOW)

    with register.look() as tx:
        found = [(one[0].stream, [event.seq for event in one]) for one in tx.events.streams("unit:")]
        everything = [one[0].stream for one in tx.events.streams("")]
    assert found == [(name, [1, 2]) for name in ("unit:B", "unit:_", "unit:b", "unit:é")]
    assert everything == sorted(names)


def test_long_histories_come_whole(register: SqlRegister) -> None:
    with register.change() as tx:  # a stream longer than a page, and streams that end where a page does
        tx.events.append([an_event("unit:A")] * 1_999 + [an_event("unit:B")] * 4_001, recorded_at=NOW)
        tx.events.append([an_event(f"unit:C{n:04}") for n in range(2_500)], recorded_at=NOW)

    with register.look() as tx:
        found = list(tx.events.streams("unit:"))
    assert [len(one) for one in found] == [1_999, 4_001, *[1] * 2_500]
    assert [event.seq for event in found[1]] == list(range(1, 4_002))


def test_no_payload_can_bring_in_what_the_register_does_not_keep(register: SqlRegister) -> None:
    for hostile in ("a\0b", ["\ud800"], {"a\0": 1}):
        with pytest.raises(ValueError, match="a text for the register holds"), register.change() as tx:
            tx.events.append([an_event(segment=hostile)], recorded_at=NOW)
    with pytest.raises(ValueError, match="not float"), register.change() as tx:
        tx.events.append([an_event(signs=1.5)], recorded_at=NOW)


def test_payloads_are_kept_as_canonical_text_whatever_their_order(register: SqlRegister) -> None:
    payload: dict[str, object] = {"signs": True, "segment": "unridden \U0001f6f4 %s %(name)s :name ?"}
    with register.change() as tx:
        tx.events.append([replace(an_event(), payload=payload)], recorded_at=NOW)

    with register.engine.connect() as connection:
        kept = connection.scalar(text("SELECT payload FROM events ORDER BY stream, seq"))
    assert kept == canonical.dump(payload)
    assert kept == '{"segment":"unridden \U0001f6f4 %s %(name)s :name ?","signs":true}'


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE events SET actor = 'nobody' WHERE seq = 1",
        "UPDATE events SET hash = hash WHERE stream = 'unit:U1'",
        "DELETE FROM events WHERE seq = 2",
        "DELETE FROM events",
    ],
)
def test_the_database_itself_refuses_to_change_or_delete_an_event(
    register: SqlRegister, statement: str
) -> None:
    _refuses(register, statement, match="events are never")


def test_the_database_itself_refuses_to_empty_the_record(address: str, register: SqlRegister) -> None:
    statement = (
        "TRUNCATE events" if address.startswith("postgresql") else "REPLACE INTO events SELECT * FROM events"
    )

    _refuses(register, statement, match="events are never|without a gap")


def test_replacing_cannot_take_an_event_away_by_its_key(tmp_path: Path) -> None:
    """SQLite's REPLACE deletes what stands in its way without asking a trigger on DELETE; PostgreSQL has none."""
    register = open_register(str(tmp_path / "register.db"), now=NOW)
    with register.change() as tx:
        stored = tx.events.append([an_event(once="n1")], recorded_at=NOW)
    with register.engine.begin() as connection:
        connection.execute(
            text(
                "REPLACE INTO events SELECT 'unit:U2', 1, kind, version, at, recorded_at, actor, via, payload, once, "
                "hash FROM events"
            )
        )

    with register.look() as tx:
        assert list(tx.events.streams("")) == [stored]
    register.close()


@pytest.mark.parametrize("seq", [0, 1, 2, 4])
def test_the_database_itself_refuses_a_gap(register: SqlRegister, seq: int) -> None:
    statement = (
        f"INSERT INTO events SELECT stream, {seq}, kind, version, at, recorded_at, actor, via, payload, "  # noqa: S608 - numbers of ours
        "NULL, hash FROM events WHERE seq = 1"
    )

    _refuses(register, statement, match="without a gap")


def _refuses(register: SqlRegister, statement: str, *, match: str) -> None:
    with register.change() as tx:
        stored = tx.events.append([an_event(), an_event()], recorded_at=NOW)

    with pytest.raises(DBAPIError, match=match), register.engine.begin() as connection:
        connection.execute(text(statement))
    with register.look() as tx:
        assert tx.events.stream("unit:U1") == stored


def append_in_turn(address: str, who: str, times: int, start: Callable[[], object]) -> None:
    """Write to one stream, and under keys that others use too, from a process of its own."""
    register = open_register(address, now=NOW)
    start()
    for n in range(times):
        with register.change() as tx:
            tx.events.append(
                [an_event("campaign", once=f"{who} {n}"), an_event(f"unit:{who}", once=f"shared {n}")],
                recorded_at=datetime.now(UTC),
            )
    register.close()


def test_processes_that_append_to_one_stream_at_once_take_turns(address: str, register: SqlRegister) -> None:
    times, writers = 40, ("a", "b", "c")
    context = multiprocessing.get_context("spawn")
    barrier = context.Barrier(len(writers))
    running = [
        context.Process(target=append_in_turn, args=(address, who, times, barrier.wait)) for who in writers
    ]
    for process in running:
        process.start()
    for process in running:
        process.join(timeout=120)

    assert [process.exitcode for process in running] == [0, 0, 0]
    with register.look() as tx:
        chain = tx.events.stream("campaign")
        shared = [event for one in tx.events.streams("unit:") for event in one]
    before = ""
    for seq, event in enumerate(chain, 1):
        assert event == chained(event, seq=seq, recorded_at=event.recorded_at, before=before)
        before = event.hash
    assert sorted(str(event.once) for event in chain) == sorted(
        f"{w} {n}" for w in writers for n in range(times)
    )
    assert sorted(str(event.once) for event in shared) == sorted(f"shared {n}" for n in range(times))
    assert [e.recorded_at for e in chain] == sorted(e.recorded_at for e in chain)


def test_a_writer_past_the_locks_is_noticed(register: SqlRegister) -> None:
    """A key that another wrote between our look and our insert leaves a hole in the chain: nothing is stored."""

    class Forgetful(EventLog):
        def _standing(self, keys: object) -> set[str]:
            del keys
            return set()

    with register.change() as tx:
        tx.events.append([an_event(once="n1")], recorded_at=NOW)

    with pytest.raises(RuntimeError, match="past its own locks"), register.engine.begin() as connection:
        Forgetful(connection).append([an_event(), an_event(once="n1")], recorded_at=NOW)
    with register.look() as tx:
        assert len(tx.events.stream("unit:U1")) == 1
