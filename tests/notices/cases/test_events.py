"""Events: known kinds only, no personal data, each chained to the one before it."""

import hashlib
from datetime import UTC, datetime, timedelta, timezone
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notices.cases.events import KINDS, NewEvent, chained, instant, moment, owner_stream, unit_stream

NOW = datetime(2026, 3, 2, 8, 30, tzinfo=UTC)


def an_event(**differences: object) -> NewEvent:
    given_fields: dict[str, object] = {
        "stream": "unit:U1",
        "kind": "use_stated",
        "at": NOW,
        "actor": "owner",
        "via": "page",
        "payload": {"signs": True, "segment": "unridden"},
    }
    return NewEvent(**(given_fields | differences))  # type: ignore[arg-type]  # one difference per test


def test_the_hash_is_sha_256_over_the_hash_before_and_the_events_own_fields() -> None:
    """Written out by hand, so that a change of spelling, which would break every chain, shows (FIPS 180-4)."""
    stored = chained(an_event(once="n1"), seq=2, recorded_at=NOW + timedelta(microseconds=5), before="ab")
    spelt = (
        '["ab",{"actor":"owner","at":"2026-03-02T08:30:00.000000Z","kind":"use_stated","once":"n1",'
        '"payload":{"segment":"unridden","signs":true},"recorded_at":"2026-03-02T08:30:00.000005Z",'
        '"seq":2,"stream":"unit:U1","version":1,"via":"page"}]'
    )

    assert stored.hash == hashlib.sha256(spelt.encode()).hexdigest()


@pytest.mark.parametrize(
    "differences",
    [
        {"stream": "unit:U2"},
        {"kind": "segment_lowered", "payload": {}},
        {"at": NOW + timedelta(microseconds=1)},
        {"actor": "Kit"},
        {"via": "mail"},
        {"payload": {"signs": False, "segment": "unridden"}},
        {"once": "n1"},
        {"version": 2},
    ],
)
def test_no_field_can_change_without_the_hash(differences: dict[str, object]) -> None:
    stored = chained(an_event(), seq=1, recorded_at=NOW, before="")
    changed = chained(an_event(**differences), seq=1, recorded_at=NOW, before="")

    assert stored.hash != changed.hash


def test_place_moment_of_recording_and_the_chain_before_are_in_the_hash() -> None:
    hashes = {
        chained(an_event(), seq=seq, recorded_at=at, before=before).hash
        for seq in (1, 2)
        for at in (NOW, NOW + timedelta(microseconds=1))
        for before in ("", "ab")
    }

    assert len(hashes) == 8


def test_the_order_of_a_payload_and_the_zone_of_a_moment_make_no_difference() -> None:
    berlin = timezone(timedelta(hours=1))
    one = chained(an_event(), seq=1, recorded_at=NOW, before="")
    other = chained(
        an_event(at=NOW.astimezone(berlin), payload={"segment": "unridden", "signs": True}),
        seq=1,
        recorded_at=NOW.astimezone(berlin),
        before="",
    )

    assert other == one
    assert other.at.tzinfo is UTC


def test_an_event_of_an_unknown_kind_is_a_fault_of_ours() -> None:
    with pytest.raises(KeyError):
        an_event(kind="something_else")


@pytest.mark.parametrize("payload", [{"name": "Ada"}, {"segment": "unridden", "email": "a@example.org"}])
def test_a_payload_carries_only_what_its_kind_lists(payload: dict[str, object]) -> None:
    with pytest.raises(AssertionError, match="use_stated carries"):
        an_event(payload=payload)


def test_an_event_without_a_time_zone_is_a_fault_of_ours() -> None:
    with pytest.raises(AssertionError, match="aware"):
        an_event(at=datetime(2026, 3, 2))  # noqa: DTZ001 - the point of it


def test_no_kind_of_event_carries_personal_data() -> None:
    keys = {key for payload in KINDS.values() for key in payload}

    assert keys & {"name", "email", "phone", "address", "value", "body", "raw", "to_name", "fill"} == set()


@given(st.datetimes(timezones=st.just(UTC)))
def test_a_moment_is_read_as_it_was_spelt(when: datetime) -> None:
    spelt = instant(when)

    assert len(spelt) == 27
    assert moment(spelt) == when
    assert moment(spelt).tzinfo is UTC


@given(st.lists(st.datetimes(timezones=st.just(UTC)), max_size=5))
def test_spelt_moments_sort_as_they_happened(moments: list[datetime]) -> None:
    spelt = sorted(map(instant, moments))

    assert [moment(one) for one in spelt] == sorted(moments)
    assert all(a <= b for a, b in pairwise(spelt))


def test_a_moment_is_spelt_as_rfc_3339_has_it() -> None:
    """RFC 3339, section 5.8, gives 1937-01-01T12:00:27.87+00:20; in UTC that is twenty minutes less."""
    netherlands = datetime(1937, 1, 1, 12, 0, 27, 870_000, tzinfo=timezone(timedelta(minutes=20)))

    assert instant(netherlands) == "1937-01-01T11:40:27.870000Z"


def test_a_moment_without_a_zone_cannot_be_spelt() -> None:
    with pytest.raises(ValueError, match="time zone"):
        instant(datetime(2026, 3, 2))  # noqa: DTZ001 - the point of it


def test_streams_are_named_after_what_they_tell_of() -> None:
    assert (unit_stream("U1"), owner_stream("A")) == ("unit:U1", "owner:A")
