"""What an owner says by a personal link: stopped or still in use, and by its last signs which unit is meant.

A link is not a person: only *stopped* counts without the unit's last signs, and then as *pressed*. What somebody
says without the right signs is written down, changes nothing, and a person looks.
"""

from dataclasses import dataclass, replace
from enum import StrEnum

from notices.campaign.layouts import layout_of
from notices.cases.case import STILL_OUT, Stopped
from notices.cases.events import NewEvent
from notices.cases.records import OwnerRow
from notices.work import signs
from notices.work.answers import Desk, Proof, Said, Standing, Visit, desk, proved, visit_of
from notices.work.gates import closed
from notices.work.owing import market_of
from notices.work.ports import Transaction, World
from notices.work.revisions import Signed, signed

HIDDEN = 4  # signs that are never shown where the campaign does not say


class Fit(StrEnum):
    """What came of the signs that a reader typed."""

    GOOD = "good"
    WRONG = "wrong"
    SEVERAL = "several"  # two units end alike: the whole code is needed
    WHOLE = "whole"  # a whole code, and of no unit of this owner
    TOO_MANY = "too many"


@dataclass(frozen=True, kw_only=True, slots=True)
class Given:
    """What came of typed signs, and the proof where they were right."""

    fit: Fit
    proof: Proof | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Shown:
    """What a page may show to a reader who has given the signs; *mine* is false for somebody else's unit."""

    standing: Standing
    mine: bool
    owner: OwnerRow | None


def speaking(world: World) -> Signed | None:
    """Return the last signed revision: what the pages say."""
    with world.register.look() as tx:
        return signed(tx)


def read_link(world: World, link: str) -> Visit | None:
    """Return whose link this is; reading it changes nothing."""
    with world.register.look() as tx:
        visit = visit_of(tx, link)
        return None if visit is None else replace(visit, waits=_waits(tx, visit))


def _waits(tx: Transaction, visit: Visit) -> bool:
    """Say whether the market of each of these units waits."""
    held = signed(tx)
    waiting = closed(tx, held.campaign) if held else {}
    markets = {
        market_of(held.campaign, each.unit, visit.owner) for each in visit.standings if held and waiting
    }
    return bool(markets) and markets <= waiting.keys()


def read_unit(world: World, proof: Proof) -> Shown | None:
    """Return the unit that a reader gave the signs of."""
    with world.register.look() as tx:
        owner, standing = proved(tx, proof)
        return None if standing is None else Shown(standing=standing, mine=owner is not None, owner=owner)


def press_stopped(world: World, link: str, said: Said) -> bool:
    """Record *stopped* for all units of the link's owner: a button alone, so *pressed*; False for no such link.

    A unit said to be in use stays so, for a call is owed; the press stands beside it for a person to see.
    """
    with world.register.change() as tx:
        visit = visit_of(tx, link)
        if visit is None:
            return False
        at = desk(tx, world, said)
        at.write(*(_pressed(at, each) for each in visit.standings))
        return True


def _pressed(at: Desk, standing: Standing) -> list[NewEvent]:
    unit_id = standing.unit.unit_id
    if standing.case.stopped is Stopped.IN_USE:
        return at.of_unit(unit_id, "answer_set_aside", of="stop_stated", why="contradicts")
    return at.of_unit(unit_id, "stop_stated", stopped=True, signs=False)


def still_in_use(world: World, link: str, said: Said, number: str) -> bool:
    """Record that the units are still used and that we must call *number* today; False for no such link.

    The number is kept as it was typed: it is no contact of the owner's before the signs have been given. Where a
    person has said *stopped*, that stands, and we call all the same.
    """
    with world.register.change() as tx:
        visit = visit_of(tx, link)
        if visit is None:
            return False
        at = desk(tx, world, said)
        at.write(*(_in_use(at, visit, each, number) for each in visit.standings))
        return True


def _in_use(at: Desk, visit: Visit, standing: Standing, number: str) -> list[NewEvent]:
    unit_id, owner_id = standing.unit.unit_id, visit.owner.owner_id
    asked = at.of_unit(unit_id, "help_asked", words=number, owner_id=owner_id, what="call")
    if standing.case.stopped is Stopped.STOPPED:
        return [*at.of_unit(unit_id, "answer_set_aside", of="stop_stated", why="contradicts"), *asked]
    return [*at.of_unit(unit_id, "stop_stated", stopped=False, signs=False), *asked]


def give_signs(world: World, link: str, said: Said, typed: str, *, pressed: bool) -> Given | None:
    """Take the last signs of a code (or a family name) as proof that this reader has the unit; None: no such link.

    *pressed* says that this reader has just said *stopped*. Wrong signs are recorded, and a person looks.
    """
    with world.register.change() as tx:
        visit = visit_of(tx, link)
        if visit is None:
            return None
        at = desk(tx, world, said)
        given = identify(at, visit, typed, whole=True)
        if given.proof is not None:
            at.write(_proof_given(at, visit, given.proof.unit_id, pressed=pressed))
        return given


def identify(at: Desk, visit: Visit, typed: str, *, whole: bool = False) -> Given:
    """Return which unit was meant; wrong signs are set aside for a person.

    With *whole* another's whole code is handed back instead, for the caller to judge.
    """
    held = signed(at.tx)
    code = held.campaign.code if held else None
    hidden = code.hidden if code else HIDDEN
    if not visit.standings or signs.too_many(visit, at.now):
        return Given(fit=Fit.TOO_MANY if visit.standings else Fit.WRONG)
    found = signs.matching(visit, typed, hidden)
    without_code = [each for each in found if not each.unit.code]
    if len(found) == 1 or (found and len(without_code) == len(found)):
        first = min(found, key=lambda each: ("use_stated" in each.kinds, each.unit.unit_id))
        return Given(fit=Fit.GOOD, proof=Proof(unit_id=first.unit.unit_id, owner_id=visit.owner.owner_id))
    if found:
        return Given(fit=Fit.SEVERAL)
    if whole and signs.is_whole_code(typed, layout_of(code), hidden):
        return Given(fit=Fit.WHOLE)
    at.write(set_aside(at, visit, "code_given", signs.WRONG_SIGNS, typed))
    return Given(fit=Fit.WRONG)


def set_aside(at: Desk, visit: Visit, of: str, why: str, words: str) -> list[NewEvent]:
    """Return an answer that changes nothing, in the stream of the first unit of the link's owner."""
    if not visit.standings:
        return []
    unit_id = visit.standings[0].unit.unit_id
    return at.of_unit(unit_id, "answer_set_aside", words=words, owner_id=visit.owner.owner_id, of=of, why=why)


def _proof_given(at: Desk, visit: Visit, unit_id: str, *, pressed: bool) -> list[NewEvent]:
    """Write that the signs were right; what a button had said for the other units is now said by a person."""
    events: list[NewEvent] = []
    for each in visit.standings:
        if each.unit.unit_id == unit_id:
            events += at.of_unit(unit_id, "code_given", code_key=each.unit.code_key, near=False, signs=True)
            if each.case.ending in STILL_OUT:  # given up, and now heard of
                events += at.of_unit(unit_id, "case_reopened", why="the owner has answered")
        events += at.heard(each, pressed=pressed)
    return [*events, *_language(at, visit.owner)]


def _language(at: Desk, owner: OwnerRow) -> list[NewEvent]:
    chosen = at.said.language
    if chosen is None or chosen == owner.language:
        return []
    at.tx.people.put_owners([replace(owner, language=chosen, basis="chosen")])
    return at.of_owner(owner.owner_id, "language_chosen", language=chosen)
