"""How often one address, and all together, may ask: counted in memory alone, bounded, forgotten with the process.

An address is kept as a keyed digest (BLAKE2, RFC 7693) under a key that nobody else has and that is written nowhere.
"""

from collections import OrderedDict
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from hashlib import blake2b
from ipaddress import IPv6Address, ip_address
from math import ceil
from threading import Lock

from starlette.datastructures import Headers
from starlette.exceptions import HTTPException
from starlette.types import Scope

from notices.work.ports import World

BUSY = 429
MOST_KEPT = 20_000
_NETWORK = 64  # one household or host is given as many bits of an IPv6 address (RFC 6177)


@dataclass(frozen=True, kw_only=True, slots=True)
class Rate:
    """A bucket that holds *burst* tokens and gets one more *every* so many seconds."""

    burst: int
    every: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Quota:
    """What one address may do, and what all may do together."""

    each: Rate
    together: Rate


PAGE, STOP, MISS, TYPED, UPLOAD = "page", "stop", "miss", "typed", "upload"
# Common practice, no source: a whole office or a mobile network may stand behind one address.
QUOTAS: Mapping[str, Quota] = {
    PAGE: Quota(each=Rate(burst=300, every=0.2), together=Rate(burst=3000, every=0.01)),
    STOP: Quota(each=Rate(burst=120, every=1), together=Rate(burst=1200, every=0.05)),
    MISS: Quota(each=Rate(burst=30, every=20), together=Rate(burst=600, every=1)),
    TYPED: Quota(each=Rate(burst=30, every=10), together=Rate(burst=600, every=0.5)),
    UPLOAD: Quota(each=Rate(burst=12, every=60), together=Rate(burst=120, every=5)),
}


class Limits:
    """The buckets of this process; *now* is read at each question, *key* hides the addresses."""

    def __init__(
        self,
        *,
        key: bytes,
        now: Callable[[], datetime],
        quotas: Mapping[str, Quota] = QUOTAS,
        most: int = MOST_KEPT,
    ) -> None:
        self._key = key
        self._now = now
        self._quotas = quotas
        self._most = most
        # Of each bucket only the moment at which it will be full again is kept.
        self._full_at: OrderedDict[bytes, float] = OrderedDict()
        self._together: dict[str, float] = {}
        self._lock = Lock()

    def kept(self) -> int:
        """Return how many buckets of addresses are kept."""
        return len(self._full_at)

    def take(self, kind: str, address: str | None) -> float:
        """Take a token of *kind*, of the address's bucket and of everybody's; return the seconds to wait, 0 if taken.

        Where there is no *address* to tell people apart by, everybody's bucket alone counts.
        """
        quota, now = self._quotas[kind], self._now().timestamp()
        name = self._name(kind, address)
        with self._lock:
            mine, ours = self._of(name, quota.each, now), self._of_all(kind, quota.together, now)
            wait = max(_wait(ours, quota.together, now), _wait(mine, quota.each, now) if name else 0.0)
            if wait == 0:
                self._together[kind] = ours + quota.together.every
                if name:
                    self._keep(name, mine + quota.each.every, now)
        return wait

    def closed(self, kind: str, address: str | None) -> float:
        """Return how long *address* must wait before it may fail again; nothing is taken.

        While all together fail too often, whoever has failed lately waits; who has not is let through.
        """
        quota, now = self._quotas[kind], self._now().timestamp()
        name = self._name(kind, address)
        if name is None:
            return 0.0
        with self._lock:
            mine, ours = self._of(name, quota.each, now), self._of_all(kind, quota.together, now)
        together = _wait(ours, quota.together, now) if mine > now else 0.0
        return max(_wait(mine, quota.each, now), together)

    def _name(self, kind: str, address: str | None) -> bytes | None:
        if address is None:
            return None
        return blake2b(f"{kind} {address}".encode(), key=self._key, digest_size=16).digest()

    def _of(self, name: bytes | None, rate: Rate, now: float) -> float:
        return _since(self._full_at.get(name, 0.0) if name else 0.0, rate, now)

    def _of_all(self, kind: str, rate: Rate, now: float) -> float:
        return _since(self._together.get(kind, 0.0), rate, now)

    def _keep(self, name: bytes, full_at: float, now: float) -> None:
        self._full_at[name] = full_at
        self._full_at.move_to_end(name)
        while self._full_at and (
            len(self._full_at) > self._most or next(iter(self._full_at.values())) <= now
        ):
            self._full_at.popitem(last=False)


def _since(full_at: float, rate: Rate, now: float) -> float:
    """Return the moment a bucket is full, at the earliest now; a clock that was set back empties no bucket."""
    return now if full_at > now + rate.burst * rate.every else max(full_at, now)


def _wait(full_at: float, rate: Rate, now: float) -> float:
    """Return the seconds until there is a token again, 0 where there is one."""
    return max(0.0, full_at - now - (rate.burst - 1) * rate.every)


def limits_of(world: World) -> Limits:
    """Return the limits of this process, under a key drawn for it."""
    return Limits(key=bytes(world.draw(256) for _ in range(32)), now=world.now)


def busy(wait: float) -> HTTPException:
    """Return the refusal that asks to come again after *wait* seconds (RFC 6585, section 4; RFC 9110, 10.2.3)."""
    return HTTPException(BUSY, headers={"Retry-After": str(ceil(wait))})


@dataclass(frozen=True, kw_only=True, slots=True)
class Caller:
    """Who asks, as far as limits go; *over* is the wait where all but a pressed *stopped* is refused."""

    limits: Limits | None = None
    address: str | None = None
    over: float = 0.0

    def take(self, kind: str) -> float:
        """Take a token; return the seconds to wait, 0 where it was there."""
        return self.limits.take(kind, self.address) if self.limits is not None else 0.0

    def closed(self, kind: str) -> float:
        """Return the seconds for which this caller may not fail again."""
        return self.limits.closed(kind, self.address) if self.limits is not None else 0.0


def address_of(scope: Scope, *, behind_proxy: bool) -> str | None:
    """Return the network address by which people are told apart, None where there is none.

    Behind a proxy it is the last one in X-Forwarded-For, which the proxy itself has written; all before it is the
    sender's to invent. Without the word that one stands in front the header is not read; then a neighbour on this
    machine is no address, for it may be a proxy nobody spoke of, with everybody behind it.
    """
    if behind_proxy:
        forwarded = ",".join(Headers(scope=scope).getlist("x-forwarded-for"))
        return _network(forwarded.rpartition(",")[2].strip())
    client = scope.get("client")
    return _network(client[0]) if client else None


def _network(text: str) -> str | None:
    try:
        address = ip_address(text)
    except ValueError:
        return None
    if isinstance(address, IPv6Address):
        if address.ipv4_mapped is not None:
            return _network(str(address.ipv4_mapped))
        shown = int(address) >> (128 - _NETWORK) if not address.is_loopback else None
        return None if shown is None else f"{shown:x}"
    return None if address.is_loopback else str(address)
