"""A unit that comes without a link: second-hand, from the bulletin, or the other one of somebody who has a link.

A code that the register knows is a hint for a person and never changes the holder by itself; any other unit is
listed with the name and the contact that were typed.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from audiences.cleaning import one_line
from audiences.codes import code_key
from audiences.owners import ContactPoint
from audiences.verdicts import Judgement, Verdict, judge
from notices.cases import ids
from notices.cases.events import NewEvent
from notices.cases.records import OwnerRow, UnitRow
from notices.work import signs
from notices.work.answering import set_aside
from notices.work.answers import Desk, Proof, Said, Visit, desk, proved, visit_of
from notices.work.heirs import awaited, holdings_of, is_free, kept_by, sold_by, taken_over
from notices.work.judging import as_event
from notices.work.links import link_of, prepare_secrets
from notices.work.photos import Photo, code_shown
from notices.work.ports import Transaction, World
from notices.work.recording import refresh
from notices.work.revisions import Signed, signed
from notices.work.telling import Reach, keep_points, points_of

SOURCE = "page"
_UNCLEAR = frozenset({Verdict.FOREIGN, Verdict.MISSING})


@dataclass(frozen=True, kw_only=True, slots=True)
class Claim:
    """A unit that somebody speaks of: its code as typed (None: not found), and the id that a new case would get."""

    code: str | None
    unit_id: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Checked:
    """What a typed code means: *near* asks for a photo; *proof* where it is a unit of the link's owner."""

    verdict: Verdict
    near: bool
    claim: Claim
    proof: Proof | None = None
    too_many: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Claimant:
    """Who speaks, as typed; *country* ISO 3166-1, *language* the one the page was read in, *link* if one was used."""

    name: str
    reach: Reach
    country: str | None
    language: str
    link: str | None = None


def new_claim(world: World, code: str | None) -> Claim:
    """Return a claim with an id of its own; nothing is recorded."""
    return Claim(code=code, unit_id=ids.unit_id(world.draw))


def check_code(world: World, link: str | None, said: Said, code: str) -> Checked:
    """Judge a whole code by the signed revision; only a link makes the register remember that it was typed.

    It is cleared only where no slip leads to an affected code and no case of this code is affected.
    """
    with world.register.change() if link else world.register.look() as tx:
        visit = visit_of(tx, link) if link else None
        at = desk(tx, world, said)
        claim = new_claim(world, code)
        if visit is not None and signs.too_many(visit, at.now):
            return Checked(verdict=Verdict.UNREADABLE, near=False, claim=claim, too_many=True)
        judgement = judged(tx, code)
        proof = _own(visit, code)
        if visit is not None and proof is None:
            at.write(set_aside(at, visit, "code_given", signs.OTHER_CODE, code))
        return Checked(verdict=judgement.verdict, near=judgement.near, claim=claim, proof=proof)


def judged(tx: Transaction, code: str | None) -> Judgement:
    """Return what the signed revision makes of a code; a case that is affected makes its code so."""
    held = signed(tx)
    if held is None:
        return Judgement(verdict=Verdict.MISSING)
    known = [unit.unit_id for unit in tx.units.by_code(code_key(code))] if code else []
    cases = tx.cases.get(known).values()
    if any(row.case.verdict == Verdict.AFFECTED for row in cases):
        return Judgement(verdict=Verdict.AFFECTED, rule="known case")
    return judge(held.judge, code)


def judge_claim(world: World, claim: Claim) -> Judgement:
    """Return what the signed revision makes of a claim's code; nothing is recorded."""
    with world.register.look() as tx:
        return judged(tx, claim.code)


def _own(visit: Visit | None, code: str) -> Proof | None:
    if visit is None or not code_key(code):
        return None
    mine = [each.unit.unit_id for each in visit.standings if each.unit.code_key == code_key(code)]
    return Proof(unit_id=mine[0], owner_id=visit.owner.owner_id) if len(mine) == 1 else None


@dataclass(frozen=True, kw_only=True, slots=True)
class Taken:
    """What came of a claim: the proof for the pages that follow, or the contact points that cannot be used.

    *full* says that none of the photographs could be kept, for the unit has as many as a person can look through.
    """

    proof: Proof | None
    faulty: tuple[ContactPoint, ...] = ()
    full: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Asked:
    """What was said with a claim: stopped or still in use, which help is asked for, in which words."""

    stopped: bool | None
    what: str
    words: str
    photos: Sequence[Photo] = ()


def take_claim(
    world: World,
    said: Said,
    claim: Claim,
    who: Claimant,
    *,
    stopped: bool | None = None,
    ask: str = "",
    words: str = "",
    photos: Sequence[Photo] = (),
) -> Taken:
    """Record who has the unit of a claim, whether it is *stopped*, and which help is asked for in which *words*.

    Still in use asks for a call. Photographs of the code are kept for a person to look at.
    What cannot be normalised is refused, so that it can be mended in the form; where help is asked for it is not:
    a call must not wait for a well-formed number.
    """
    with world.register.change() as tx:
        held = signed(tx)
        if held is None:
            return Taken(proof=None)
        points = points_of(tx, who.country, who.reach)
        faulty = tuple(point for point in points if point.fault)
        if faulty and not ask:
            return Taken(proof=None, faulty=faulty)
        at = desk(tx, world, said)
        prepare_secrets(tx, world)
        usable = tuple(point for point in points if not point.fault)
        what = ask or ("call" if stopped is False else "")
        asked = Asked(stopped=stopped, what=what, words=words, photos=photos)
        return _take(at, held, claim, who, usable, asked)


def _take(
    at: Desk, held: Signed, claim: Claim, who: Claimant, points: tuple[ContactPoint, ...], asked: Asked
) -> Taken:
    if claim.unit_id in at.tx.units.units([claim.unit_id]):  # the same form once more
        return _again(at, claim, asked)
    known = at.tx.units.by_code(code_key(claim.code)) if claim.code else []
    heir = awaited(at.tx, who.link)
    free = heir is not None and is_free(at.tx, known)
    if known and not free:
        if own := kept_by(at.tx, who.link, known):  # the same form once more, of a unit that was free
            return Taken(proof=own)
        hint = _hint(at, known[0].unit_id, claim, who, asked)
        shown = code_shown(at, known[0].unit_id, None, asked.photos)
        at.write(hint, shown.events)
        return Taken(proof=Proof(unit_id=known[0].unit_id), full=shown.full)
    owner = _new_owner(at, who, heir)
    claim = replace(claim, unit_id=known[0].unit_id) if known else claim
    stored = at.write(
        taken_over(at, known[0], owner) if known else _listing(at, held, claim, owner),
        keep_points(at, owner.owner_id, points),
        _said(at, claim, owner, points, asked, who),
        code_shown(at, claim.unit_id, owner.owner_id, asked.photos).events,
        sold_by(at, claim.unit_id, heir),
    )
    at.tx.units.put_holdings(holdings_of(stored))
    refresh(at.tx, [row.case for row in at.tx.cases.get([claim.unit_id]).values()])
    proof = Proof(unit_id=claim.unit_id, owner_id=owner.owner_id)
    return Taken(proof=proof)


def _hint(at: Desk, unit_id: str, claim: Claim, who: Claimant, asked: Asked) -> list[NewEvent]:
    stopped = {True: "stopped", False: "still in use", None: ""}[asked.stopped]
    words = "\n".join(filter(None, (*_typed(who), claim.code, stopped, asked.what, asked.words)))
    return at.of_unit(unit_id, "answer_set_aside", words=words, of="passed_on", why="stranger")


def _said(
    at: Desk, claim: Claim, owner: OwnerRow, points: tuple[ContactPoint, ...], asked: Asked, who: Claimant
) -> list[NewEvent]:
    events: list[NewEvent] = []
    for point in points:
        events += at.of_unit(claim.unit_id, "contact_given", channel=point.channel, signs=True)
    if asked.stopped is not None:
        events += at.of_unit(claim.unit_id, "stop_stated", stopped=asked.stopped, signs=True)
    if asked.what:
        words = "\n".join(filter(None, (*_typed(who)[1:], asked.words)))
        events += at.of_unit(
            claim.unit_id, "help_asked", words=words, owner_id=owner.owner_id, what=asked.what
        )
    return events


def _again(at: Desk, claim: Claim, asked: Asked) -> Taken:
    """Return the proof of a claim that is listed already; photographs sent later are kept with it."""
    kept = [one for one in at.tx.units.holdings(unit_ids=[claim.unit_id]) if one.role == "keeper"]
    owner_id = kept[0].owner_id if kept else None
    shown = code_shown(at, claim.unit_id, owner_id, asked.photos)
    at.write(shown.events)
    return Taken(proof=Proof(unit_id=claim.unit_id, owner_id=owner_id), full=shown.full)


def link_for(world: World, proof: Proof) -> str | None:
    """Return the personal link of the holder whose signs were given, None for somebody else's unit."""
    with world.register.change() as tx:
        owner, _ = proved(tx, proof)
        return link_of(tx, owner.owner_id) if owner else None


def _typed(who: Claimant) -> tuple[str, ...]:
    return (who.name, who.reach.phone, who.reach.email, who.reach.place)


def _new_owner(at: Desk, who: Claimant, heir: OwnerRow | None) -> OwnerRow:
    owner = OwnerRow(
        owner_id=heir.owner_id if heir else ids.long_id(at.world.draw),
        kind="person",
        name=one_line(who.name),
        language=who.language,
        basis="chosen",
        country=who.country,
    )
    at.tx.people.put_owners([owner])
    return owner


def _listing(at: Desk, held: Signed, claim: Claim, owner: OwnerRow) -> list[NewEvent]:
    """List the unit; a code that is doubtful or another family's is kept beside it, so that it clears nothing."""
    unit_id = claim.unit_id
    judgement = judge(held.judge, claim.code)
    doubtful = judgement.near or judgement.verdict in _UNCLEAR
    code = None if doubtful else claim.code
    unit = UnitRow(
        unit_id=unit_id,
        unit_key=f"page:{unit_id}",
        code=code,
        code_key=code_key(code) if code else None,
        sold_on=None,
        sold_in=owner.country,
    )
    at.tx.units.put([unit])
    events = at.of_owner(owner.owner_id, "owner_listed", source=SOURCE, row=None)
    events += at.of_unit(unit_id, "unit_listed", keeper=owner.owner_id, source=SOURCE, row=None)
    if claim.code:
        key = code_key(claim.code)
        events += at.of_unit(unit_id, "code_given", code_key=key, near=judgement.near, signs=True)
    kept = judge(held.judge, code)
    events.append(as_event(held.campaign, unit, kept, at=at.now, actor="program", via="page"))
    if doubtful and claim.code:
        events += at.of_unit(
            unit_id,
            "answer_set_aside",
            words=claim.code,
            owner_id=owner.owner_id,
            of="code_given",
            why="near" if judgement.near else "foreign",
        )
    return events
