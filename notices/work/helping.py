"""The ways out of every page: somebody was hurt, call me, large print, a helper, no code found, no longer mine.

None of them waits for the right signs to reach a person; only what changes a case does.
"""

from dataclasses import replace

from notices.cases.events import NewEvent
from notices.work.answering import Fit, identify
from notices.work.answers import Desk, Proof, Said, Standing, Visit, desk, proved, visit_of
from notices.work.ports import Transaction, World

HURT, CALL, LARGE_PRINT, HELPER, NO_CODE = "hurt", "call", "large_print", "helper", "no_code"
ASKS = frozenset({HURT, CALL, LARGE_PRINT, HELPER, NO_CODE})


def ask_help(
    world: World, link: str, proof: Proof | None, said: Said, *, what: str, words: str
) -> str | None:
    """Record that a person must help, with what was typed; return the reference, None for no such link.

    It stands with the unit whose signs were given, else with the first of the link's owner.
    """
    with world.register.change() as tx:
        visit = visit_of(tx, link)
        if visit is None or not visit.standings:
            return None
        unit_id = unit_meant(tx, visit, proof)
        at = desk(tx, world, said)
        at.write(at.of_unit(unit_id, "help_asked", words=words, owner_id=visit.owner.owner_id, what=what))
        return unit_id


def unit_meant(tx: Transaction, visit: Visit, proof: Proof | None) -> str:
    """Return the unit whose signs were given, else the first of the link's owner, who has one."""
    owner = proved(tx, proof)[0] if proof else None
    mine = visit.of(proof.unit_id) if proof and owner else None
    return (mine or visit.standings[0]).unit.unit_id


def pass_on(world: World, link: str, said: Said, *, typed: str, who: str) -> bool:
    """Record that the owner has a unit no longer, and who has it now; False for no such link.

    With the right signs the unit's case goes on without a known owner, and a person asks the new one; without
    them nothing changes and a person looks.
    """
    with world.register.change() as tx:
        visit = visit_of(tx, link)
        if visit is None or not visit.standings:
            return False
        at = desk(tx, world, said)
        given = identify(at, visit, typed) if typed else None
        if given is None or given.fit is not Fit.GOOD or given.proof is None:
            why = "no signs" if given is None else "wrong signs"
            unit_id = visit.standings[0].unit.unit_id
            at.write(
                at.of_unit(
                    unit_id,
                    "answer_set_aside",
                    words=who,
                    owner_id=visit.owner.owner_id,
                    of="passed_on",
                    why=why,
                )
            )
            return True
        standing = visit.of(given.proof.unit_id)
        if standing is not None:
            _end(at, visit, standing, who)
        return True


def _end(at: Desk, visit: Visit, standing: Standing, who: str) -> None:
    unit_id, owner_id = standing.unit.unit_id, visit.owner.owner_id
    mine = [
        holding
        for holding in at.tx.units.holdings(unit_ids=[unit_id])
        if holding.owner_id == owner_id and holding.to_seq is None
    ]
    events: list[NewEvent] = []
    if any(holding.role == "keeper" for holding in mine):
        events += at.of_unit(unit_id, "passed_on", keeper=None)
    for holding in mine:
        if holding.role != "keeper":
            events += at.of_unit(unit_id, "holder_ended", owner=owner_id, role=holding.role)
    events += at.of_unit(
        unit_id, "answer_set_aside", words=who, owner_id=owner_id, of="passed_on", why="new holder"
    )
    stored = at.write(events)
    if stored:
        last = stored[0].seq
        at.tx.units.put_holdings([replace(holding, to_seq=last) for holding in mine])
