"""The trials of each form, and the table that they make."""

from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from notices.cases.records import PostingState
from tests.faults import trials
from tests.faults.outboxes import Outbox, prepared
from tests.faults.trials import Trial, Verdict
from tests.faults.windows import TITLES, Window, orders

_WIDTHS = (32, 6, 6, 13, 8, 8, 7, 8, 9)
_HEAD = ("window", "kills", "hits", "doubt max/all", "copies", "handed", "twice", "missing", "verdict")
# The reply's outcome is recorded within milliseconds: a kill after it may come too late, but not as a rule.
_SHARE_OF_HITS = 0.4
_SIDE_BY_SIDE = 3


def full(server: str | None) -> tuple[int, list[Trial]]:
    """Return the size of the outbox and the trials that continuous integration runs."""
    engines = [("SQLite", None)] + ([("PostgreSQL", server)] if server else [])
    found = [
        Trial(
            name=f"{engine}, {_who(senders, connections)}",
            connections=connections,
            senders=senders,
            rounds=(orders(25, seed=7 * senders + connections), orders(1, seed=senders, most=5)),
            server=address,
        )
        for senders, connections in ((2, 2), (1, 1), (1, 4))
        for engine, address in engines
    ]
    return 2000, found


def quick() -> tuple[int, list[Trial]]:
    """Return the size of the outbox and the trials that every run of the tests runs."""
    return 200, [
        Trial(
            name=f"SQLite, {_who(1, connections)}",
            connections=connections,
            senders=1,
            rounds=(orders(3, seed=connections, most=6),),
        )
        for connections in (1, 4)
    ]


def _who(senders: int, connections: int) -> str:
    lines = f"{connections} connection{'s' * (connections > 1)}"
    return lines if senders == 1 else f"{senders} senders of {lines} each"


def run(size: int, wanted: Sequence[Trial], folder: Path) -> Iterator[Verdict]:
    """Run the trials, some side by side for they mostly wait for the disk, and yield their verdicts in order."""
    whole = prepared(folder / "whole", size)
    with ThreadPoolExecutor(max_workers=_SIDE_BY_SIDE) as pool:
        yield from pool.map(lambda pair: _one(pair[1], whole, folder / f"trial-{pair[0]}"), enumerate(wanted))


def _one(trial: Trial, whole: Outbox, folder: Path) -> Verdict:
    verdict = trials.run(trial, whole, folder)
    _judge(verdict)
    return verdict


def _judge(verdict: Verdict) -> None:
    """Hold that every kill was done and that the windows were really hit."""
    wanted = dict.fromkeys(Window, 0)
    for order in (order for one in verdict.trial.rounds for order in one):
        wanted[order.window] += 1
    for window, tally in verdict.ledger.tallies.items():
        ledger = verdict.ledger
        if tally.kills != wanted[window]:
            ledger.hold(f"{tally.kills} of {wanted[window]} kills", [window], when="the matrix")
        if tally.hits < tally.kills * _SHARE_OF_HITS:
            ledger.hold(f"{tally.hits} hits in {tally.kills} kills", [window], when="the matrix")


def table(verdicts: Sequence[Verdict]) -> str:
    """Return the matrix as plain text."""
    return "\n".join(line for verdict in verdicts for line in _block(verdict))


def _block(verdict: Verdict) -> Iterator[str]:
    ledger = verdict.ledger
    yield f"== {verdict.trial.name}: {sum(verdict.states.values())} postings, {verdict.seconds:.0f} s"
    yield _line(*_HEAD)
    for window, tally in ledger.tallies.items():
        doubts = f"{tally.most_doubts}/{tally.doubts}"
        yield _line(TITLES[window], tally.kills, tally.hits, doubts, "", "", tally.twice, "", "")
    every = list(ledger.tallies.values())
    yield _line(
        "in all",
        sum(one.kills for one in every),
        sum(one.hits for one in every),
        f"{max(one.most_doubts for one in every)}/{sum(one.doubts for one in every)}",
        verdict.copies,
        verdict.states.get(PostingState.HANDED_OVER, 0),
        verdict.twice,
        verdict.missing,
        "BROKEN" if ledger.broken else "holds",
    )
    others = {
        state: count for state, count in verdict.states.items() if state is not PostingState.HANDED_OVER
    }
    if others:
        yield "   " + ", ".join(f"{count} {state.value.replace('_', ' ')}" for state, count in others.items())
    yield from (f"   broken: {one}" for one in ledger.broken)
    yield ""


def _line(*cells: object) -> str:
    first, *rest = zip(cells, _WIDTHS, strict=True)
    return f"{first[0]!s:<{first[1]}}" + " ".join(f"{cell!s:>{width}}" for cell, width in rest)
