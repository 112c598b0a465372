"""The buckets of the pages: how many tokens, for whom, refilled by a given clock, in bounded memory."""

from datetime import timedelta

import pytest

from notices.respond.limits import QUOTAS, Limits, Quota, Rate, address_of
from tests.owners_world import Clock

KEY = b"a key of this process alone"
FEW = {"page": Quota(each=Rate(burst=3, every=10), together=Rate(burst=5, every=1))}


def a_limit(clock: Clock, most: int = 100) -> Limits:
    return Limits(key=KEY, now=clock, quotas=FEW, most=most)


def test_a_bucket_gives_its_burst_and_then_one_token_every_so_often() -> None:
    clock = Clock()
    limits = a_limit(clock)

    assert [limits.take("page", "A") for _ in range(4)] == [0, 0, 0, 10]
    clock.forward(timedelta(seconds=4))
    assert limits.take("page", "A") == pytest.approx(6)
    clock.forward(timedelta(seconds=6))
    assert [limits.take("page", "A") for _ in range(2)] == [0, 10]
    clock.forward(timedelta(days=1))
    assert [limits.take("page", "A") for _ in range(4)] == [0, 0, 0, 10]


def test_one_address_leaves_the_others_their_tokens_until_all_together_have_none() -> None:
    limits = a_limit(Clock())

    assert [limits.take("page", "A") for _ in range(4)] == [0, 0, 0, 10]
    assert [limits.take("page", address) for address in "BCD"] == [0, 0, 1]


def test_without_an_address_everybodys_bucket_alone_counts() -> None:
    limits = a_limit(Clock())

    assert [limits.take("page", None) for _ in range(6)] == [0, 0, 0, 0, 0, 1]
    assert limits.kept() == 0
    assert limits.closed("page", None) == 0


def test_who_has_failed_too_often_waits_and_who_never_failed_does_not() -> None:
    limits = a_limit(Clock())
    for _ in range(3):
        limits.take("page", "A")

    assert limits.closed("page", "A") == 10
    assert limits.closed("page", "B") == 0
    limits.take("page", "B")
    limits.take("page", "C")
    assert [limits.closed("page", address) for address in "BCD"] == [1, 1, 0]


def test_a_clock_that_was_set_back_locks_nobody_out() -> None:
    clock = Clock()
    limits = a_limit(clock)
    for _ in range(3):
        limits.take("page", "A")

    clock.forward(timedelta(days=-2))

    assert limits.take("page", "A") == 0


def test_memory_is_bounded_and_what_is_full_again_is_forgotten() -> None:
    clock = Clock()
    wide = {"page": Quota(each=Rate(burst=2, every=10), together=Rate(burst=10**6, every=0))}
    limits = Limits(key=KEY, now=clock, quotas=wide, most=100)
    for place in range(1000):
        limits.take("page", f"A{place}")

    assert limits.kept() == 100
    clock.forward(timedelta(seconds=60))
    limits.take("page", "B")
    assert limits.kept() == 1


def test_no_address_is_kept_and_another_process_would_spell_it_otherwise() -> None:
    one, other = (Limits(key=key, now=Clock(), quotas=FEW) for key in (b"one", b"other"))
    for limits in (one, other):
        limits.take("page", "203.0.113.7")

    assert "203.0.113.7" not in str(vars(one))
    assert b"203.0.113.7" not in b"".join(one._full_at)  # noqa: SLF001 - what lies in memory is the point
    assert list(one._full_at) != list(other._full_at)  # noqa: SLF001 - the same


def test_failing_and_uploading_are_held_tighter_than_reading() -> None:
    page = QUOTAS["page"]

    for kind in ("miss", "typed", "upload"):
        assert QUOTAS[kind].each.burst < page.each.burst
        assert QUOTAS[kind].each.every > page.each.every
        assert QUOTAS[kind].together.burst < page.together.burst
    assert all(quota.each.burst < quota.together.burst for quota in QUOTAS.values())


def _asked(client: str | None, *forwarded: str) -> dict[str, object]:
    headers = [(b"x-forwarded-for", each.encode()) for each in forwarded]
    return {"type": "http", "client": (client, 4711) if client else None, "headers": headers}


@pytest.mark.parametrize(
    ("client", "forwarded", "behind_proxy", "address"),
    [
        ("203.0.113.7", (), False, "203.0.113.7"),
        # A header that anybody can send says nothing where no proxy writes it.
        ("203.0.113.7", ("198.51.100.1",), False, "203.0.113.7"),
        ("127.0.0.1", ("198.51.100.1",), True, "198.51.100.1"),
        # What stands before the last one was sent by the client itself.
        ("127.0.0.1", ("10.0.0.1, 198.51.100.1",), True, "198.51.100.1"),
        ("127.0.0.1", ("10.0.0.1", "198.51.100.1"), True, "198.51.100.1"),
        ("127.0.0.1", ("198.51.100.1, nonsense",), True, None),
        ("127.0.0.1", (), True, None),
        ("127.0.0.1", (), False, None),
        ("::1", (), False, None),
        (None, (), False, None),
        ("::ffff:203.0.113.7", (), False, "203.0.113.7"),
        ("::ffff:127.0.0.1", (), False, None),
    ],
)
def test_an_address_is_what_the_network_says_and_the_proxys_word_only_where_there_is_one(
    client: str | None,
    forwarded: tuple[str, ...],
    behind_proxy: bool,  # noqa: FBT001 - a parameter
    address: str | None,
) -> None:
    assert address_of(_asked(client, *forwarded), behind_proxy=behind_proxy) == address


def test_all_addresses_of_one_ipv6_network_share_a_bucket() -> None:
    """One site is given a /64 or more (RFC 6177), so that a host may wear 2 to the 64 addresses."""
    one, same, other = (
        address_of(_asked(each), behind_proxy=False)
        for each in ("2001:db8:1:2::1", "2001:db8:1:2:ffff::9", "2001:db8:1:3::1")
    )

    assert one == same != other
