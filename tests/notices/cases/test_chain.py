"""The chain of the record, link by link, and the seal over all its ends."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from audiences import canonical
from notices.cases import chain
from notices.cases.chain import Breach, Head, Link, Seal
from notices.cases.events import Event, NewEvent, chained, instant

NOW = datetime(2026, 3, 2, 8, 30, tzinfo=UTC)


def a_stream(count: int = 4, name: str = "unit:U1") -> list[Link]:
    """Return a stream as a register holds it."""
    links, before = [], ""
    for seq in range(1, count + 1):
        news = NewEvent(
            stream=name,
            kind="use_stated",
            at=NOW + timedelta(minutes=seq),
            actor="owner",
            via="page",
            payload={"segment": "unridden", "signs": True},
            once=f"once {seq}" if seq % 2 else None,
        )
        event = chained(news, seq=seq, recorded_at=NOW + timedelta(minutes=seq), before=before)
        before = event.hash
        links.append(as_link(event))
    return links


def as_link(event: Event) -> Link:
    return Link(
        stream=event.stream,
        seq=event.seq,
        kind=event.kind,
        version=event.version,
        at=instant(event.at),
        recorded_at=instant(event.recorded_at),
        actor=event.actor,
        via=event.via,
        payload=canonical.dump(event.payload),
        once=event.once,
        hash=event.hash,
    )


def found(links: list[Link]) -> list[tuple[int, str]]:
    return [(breach.seq, breach.sort) for breach in chain.breaches(links)]


def test_a_stream_as_it_was_chained_holds() -> None:
    assert found(a_stream()) == []


@pytest.mark.parametrize(
    "change",
    [
        {"kind": "away"},
        {"version": 2},
        {"at": "2026-03-02T08:31:00.000001Z"},
        {"recorded_at": "2026-03-02T08:31:00.000001Z"},
        {"actor": "somebody"},
        {"via": "phone"},
        {"payload": '{"segment":"unridden","signs":false}'},
        {"once": "another"},
    ],
    ids=lambda change: next(iter(change)),
)
def test_whatever_of_an_event_is_changed_shows_at_that_event_alone(change: dict[str, object]) -> None:
    links = a_stream()
    links[1] = replace(links[1], **change)  # type: ignore[arg-type]  # one field a case

    assert found(links) == [(2, "changed")]


def test_an_event_moved_to_another_stream_shows() -> None:
    links = [replace(link, stream="unit:U2") for link in a_stream(1)]

    assert found(links) == [(1, "changed")]


def test_a_changed_fingerprint_shows_where_it_stands_and_at_the_event_after_it() -> None:
    links = a_stream()
    links[1] = replace(links[1], hash="0" * 64)

    assert found(links) == [(2, "changed"), (3, "changed")]


def test_events_that_were_taken_out_are_named_each() -> None:
    first, _, _, last = a_stream()

    assert found([first, last]) == [(2, "missing"), (3, "missing")]
    assert found([last]) == [(1, "missing"), (2, "missing"), (3, "missing")]


def test_two_events_that_changed_places_show() -> None:
    links = a_stream(2)
    swapped = [replace(links[1], seq=1), replace(links[0], seq=2)]

    assert found(swapped) == [(1, "changed"), (2, "changed")]


@pytest.mark.parametrize("payload", ["{", "1.5", '"\\ud800"', "[" * 100_000])
def test_a_payload_that_cannot_be_read_is_said_so(payload: str) -> None:
    links = a_stream()
    links[2] = replace(links[2], payload=payload)

    assert found(links) == [(3, "unreadable")]


def test_links_come_in_streams() -> None:
    both = a_stream(2) + a_stream(3, "unit:U2")

    assert [len(stream) for stream in chain.by_stream(both)] == [2, 3]


def test_a_link_is_read_as_the_event_it_was() -> None:
    link = a_stream(1)[0]
    event = chain.as_event(link)

    assert event is not None
    assert as_link(event) == link


@pytest.mark.parametrize(
    "change",
    [
        {"kind": "flown_away"},
        {"at": "yesterday"},
        {"payload": '{"nobody":1}'},
        {"payload": "{"},
        {"payload": "3"},
    ],
)
def test_what_is_no_event_of_ours_is_none(change: dict[str, str]) -> None:
    assert chain.as_event(replace(a_stream(1)[0], **change)) is None  # type: ignore[arg-type]  # one field a case


HEADS = [Head(stream="unit:U1", seq=3, hash="b" * 64), Head(stream="campaign", seq=2, hash="a" * 64)]


def test_a_seal_counts_streams_and_events_and_digests_their_ends_in_order() -> None:
    seal = chain.seal_of(HEADS)

    assert (seal.streams, seal.events) == (2, 5)
    assert seal.digest == canonical.digest([["campaign", 2, "a" * 64], ["unit:U1", 3, "b" * 64]])
    assert chain.seal_of(HEADS[::-1]) == seal
    assert chain.seal_of(HEADS[:1]) != seal


def test_the_ends_are_written_and_read_back() -> None:
    read = chain.read(chain.written(HEADS))

    assert read == tuple(HEADS[::-1])


@pytest.mark.parametrize("text", ["", "7", "[[1,2]]", '[["a","b","c"]]', "[" * 100_000])
def test_ends_that_cannot_be_read_are_none(text: str) -> None:
    assert chain.read(text) is None


def test_a_seal_is_found_in_its_event_and_nowhere_else() -> None:
    assert chain.seal_in({"streams": 1, "events": 2, "digest": "d"}) == Seal(streams=1, events=2, digest="d")
    assert chain.seal_in({"streams": 1, "events": 2}) is None


def test_a_breach_names_its_stream() -> None:
    assert next(chain.breaches(a_stream()[1:])) == Breach(stream="unit:U1", seq=1, sort="missing")
