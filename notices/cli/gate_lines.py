"""Markets that wait, in plain lines."""

from collections.abc import Iterable, Iterator

from notices.cli.saying import number
from notices.work.gates import Gate, Held


def held(markets: Iterable[Held]) -> Iterator[str]:
    """Yield for each market that waits how many owners do, why, and what ends it."""
    for one in markets:
        name = one.gate.market
        wait = "waits" if one.owners == 1 else "wait"
        yield f"{number(one.owners, 'owner')} in {name} {wait}: {one.gate.why}"
        yield f"    once that is settled: notices market {name} release --by NAME --reason TEXT"


def older(markets: Iterable[Gate], revision: int | None) -> Iterator[str]:
    """Yield where a market was released before the revision that goes out now was signed."""
    for gate in markets:
        law = gate.agreement.source if gate.agreement else ""
        yield (
            f"{gate.market} was released before revision {revision} was signed: {gate.reason} ({gate.by})."
            f" Does that agreement cover what goes out now ({law})?"
        )
        yield f"    with the newer one: notices market {gate.market} release --by NAME --reason TEXT"


def standing(gate: Gate) -> str:
    """Return how one market stands."""
    if gate.held:
        return f"{gate.market} waits: {gate.why}"
    return f"{gate.market} released: {gate.reason} ({gate.by})" if gate.by else f"{gate.market} open"
