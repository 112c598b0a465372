"""Write down what staff hear, by telephone, mail, letter or at the counter: one word of theirs, one event."""

from collections.abc import Callable, Mapping
from dataclasses import replace

from audiences import addresses
from audiences.codes import code_key, fold
from audiences.owners import ContactPoint
from audiences.segments import Segment
from audiences.verdicts import judge
from notices.cases.case import ENDINGS, PUT_AWAY
from notices.cases.events import NewEvent, owner_stream, unit_stream
from notices.cases.records import ContactRow, Posting, PostingState, Told, UnitRow
from notices.work import judging
from notices.work.lots import is_withdrawn
from notices.work.ports import Transaction, World
from notices.work.recording import record
from notices.work.revisions import signed
from notices.work.seeking import units_named
from notices.work.units import present
from notices.work.words import At, HearingError, Word

OUTCOMES = frozenset({"spoke", "no-answer", "dead"})
# Refusals of the address itself (RFC 3463, X.1.* and X.2.1); a policy's refusal says nothing of the owner.
_ADDRESS_FAULTS = ("5.1.", "5.2.1")


__all__ = ["OUTCOMES", "WORDS", "HearingError", "Word", "hear"]


def hear(world: World, which: str, word: Word) -> list[str]:
    """Write *word* down for the unit that *which* names (reference, code, link, address); return the units' ids.

    Only *stopped*, *in-use*, *call* and *bounced* may be said of several units of one owner at once. Raises
    HearingError where the unit is not found or a detail is missing.
    """
    if word.what not in WORDS:
        raise HearingError(f"'{word.what}' is none of: {', '.join(sorted(WORDS))}")
    with world.register.change() as tx:
        units = _units(tx, which, word)
        now = world.now()
        held = signed(tx)
        cases = tx.cases.get([unit.unit_id for unit in units])
        for unit in units:
            at = At(
                tx=tx, world=world, now=now, unit=unit, case=cases[unit.unit_id].case, held=held, word=word
            )
            record(tx, WORDS[word.what](at), now=now)
    return [unit.unit_id for unit in units]


def _units(tx: Transaction, which: str, word: Word) -> list[UnitRow]:
    found = tx.units.units(units_named(tx, which))
    if not found:
        raise HearingError(f"no unit or owner is known as {which}")
    if len(found) > 1 and word.what not in _FOR_ALL:
        raise HearingError(
            f"{which} names {len(found)} units: say which, by its reference: {', '.join(sorted(found))}"
        )
    return [found[unit_id] for unit_id in sorted(found)]


def _stop(*, stopped: bool) -> Callable[[At], list[NewEvent]]:
    return lambda at: [at.event("stop_stated", stopped=stopped, signs=True)]


def _use(at: At) -> list[NewEvent]:
    return [at.event("use_stated", segment=_segment(at), signs=True)]


def _lower(at: At) -> list[NewEvent]:
    payload = {"from": at.case.segment, "to": _segment(at), "text": at.words()}
    return [at.event("segment_lowered", **payload)]


def _segment(at: At) -> Segment:
    if at.word.value not in {one.value for one in Segment}:
        raise HearingError(f"how it was used is one of: {', '.join(Segment)}")
    said = Segment(at.word.value)
    return Segment.SYMPTOMATIC if said is Segment.UNKNOWN and at.word.what == "use" else said


def _code(*, seen: bool) -> Callable[[At], list[NewEvent]]:
    """Take a code that was read out to us or *seen* on a photo, and judge the unit by it.

    A code that is only read out clears nothing where it lies near an affected one: a photo is asked for.
    """

    def given(at: At) -> list[NewEvent]:
        key = code_key(at.word.value)
        if not key:
            raise HearingError("code needs the code as it stands on the unit")
        unit = replace(at.unit, code=at.word.value.strip(), code_key=key)
        found = judge(at.held.judge, unit.code, unit.sold_on) if at.held else None
        near = found is not None and found.near
        known = seen or (at.unit.code_key == key and at.case.told_code != key)
        event = at.event("code_given", code_key=key, near=near, photo=known, signs=True)
        if near and not known:
            return [event, at.event("help_asked", what="photo of the code")]
        at.tx.units.put([unit])
        if at.held is None or found is None or not judging.differs(at.case, found):
            return [event]
        return [
            event,
            judging.as_event(at.held.campaign, unit, found, at=at.now, actor=at.word.by, via=at.word.via),
        ]

    return given


def _remedy(at: At) -> list[NewEvent]:
    known = list((at.held.campaign.remedies or {}) if at.held else {})
    if at.word.value not in known:
        raise HearingError(f"the signed revision's remedies are: {', '.join(known) or 'none yet'}")
    return [at.event("remedy_chosen", remedy=at.word.value, signs=True)]


def _call(at: At) -> list[NewEvent]:
    if at.word.value not in OUTCOMES:
        raise HearingError(f"the outcome of a call is one of: {', '.join(sorted(OUTCOMES))}")
    return [at.event("call_made", posting="", outcome=at.word.value)]


def _passed_on(at: At) -> list[NewEvent]:
    before = [
        one for one in present(at.tx.units.holdings(unit_ids=[at.unit.unit_id])) if one.role == "keeper"
    ]
    seq = at.case.version + 1
    at.tx.units.put_holdings(replace(one, to_seq=seq) for one in before)
    return [at.event("passed_on", keeper="")]


def _visit(kind: str) -> Callable[[At], list[NewEvent]]:
    return lambda at: [at.event(kind, day=at.day())]


def _parts(at: At) -> list[NewEvent]:
    lot = fold(at.word.lot)
    return [at.event("parts_sent", kit=at.word.value, lot=lot), *_if_withdrawn(at, lot)]


def _done(at: At) -> list[NewEvent]:
    lot = fold(at.word.value)
    event = at.event("work_reported_done", by=at.word.by, lot=lot, evidence="")
    return [event, *_if_withdrawn(at, lot)]


def _if_withdrawn(at: At, lot: str) -> list[NewEvent]:
    """Raise the alarm where parts went out, or were fitted, though their lot had been withdrawn."""
    return [at.event("lot_withdrawn", lot=lot, why="")] if lot and is_withdrawn(at.tx, lot) else []


def _confirmed(at: At) -> list[NewEvent]:
    """Close as fixed on the owner's own word, given by telephone, signed reply or signed job sheet."""
    if at.case.lot_withdrawn:
        raise HearingError(
            f"its parts are of lot {at.case.lot_withdrawn}, which was withdrawn: first write down with which lot they"
            " were replaced (parts … --lot LOT, or done LOT)"
        )
    how = at.word.value or at.word.via
    return [
        at.event("fix_confirmed", how=how, by="owner", evidence=""),
        at.event("case_closed", ending="fixed", evidence=""),
    ]


def _taken_back(at: At) -> list[NewEvent]:
    return [at.event("confirmation_taken_back")]


def _closed(at: At) -> list[NewEvent]:
    allowed = sorted(ENDINGS - {"fixed", "cleared"})
    if at.word.value not in allowed:
        raise HearingError(f"a case closes as one of: {', '.join(allowed)}; as fixed only by confirmed")
    evidence = at.words() if at.word.value in PUT_AWAY or at.word.text else ""
    return [at.event("case_closed", ending=at.word.value, evidence=evidence)]


def _reopened(at: At) -> list[NewEvent]:
    return [at.event("case_reopened", why=at.words())]


def _email(at: At) -> list[NewEvent]:
    return _contact(at, addresses.email(at.word.value))


def _phone(at: At) -> list[NewEvent]:
    country = at.tx.people.owners([at.keeper()])[at.keeper()].country
    return _contact(at, addresses.phone(at.word.value, country))


def _contact(at: At, point: ContactPoint) -> list[NewEvent]:
    if point.fault or not point.value_key:
        raise HearingError(f"{at.word.what} cannot be used: {point.fault or 'empty'}")
    at.tx.people.put_contacts(
        [
            ContactRow(
                owner_id=at.keeper(), channel=point.channel, value_key=point.value_key, value=point.value
            )
        ]
    )
    return [
        at.of_owner("contact_added", channel=point.channel, value_key=""),
        at.event("contact_given", channel=point.channel, signs=True),
    ]


def _help(at: At) -> list[NewEvent]:
    return [at.event("help_asked", what=at.word.value or "call", text=at.words() if at.word.text else "")]


def _looked(at: At) -> list[NewEvent]:
    return [at.event("looked_at", by=at.word.by)]


def _bounced(at: At) -> list[NewEvent]:
    """Mark the last notice that went to the unit's keeper as come back, and the address where it is at fault."""
    status = at.word.value or "5.0.0"
    told = [
        one
        for one in at.tx.record.told([at.unit.unit_id])
        if one.owner_id == at.keeper()
        and (one.state is PostingState.HANDED_OVER or _of_another_unit(at, one))
    ]
    if not told:
        raise HearingError("no notice to this owner is out that could have come back")
    for posting in list(at.tx.outbox.postings(posting_ids=[told[-1].posting_id])):
        if posting.state is PostingState.BOUNCED:
            continue
        at.tx.outbox.settle(replace(posting, state=PostingState.BOUNCED, why=status), None)
        if status.startswith(_ADDRESS_FAULTS):
            _fail(at, posting, status)
    return [at.event("notice_bounced", posting=told[-1].posting_id, status=status)]


def _of_another_unit(at: At, told: Told) -> bool:
    """Say whether a message has come back for another of its units, and not yet for this one."""
    if told.state is not PostingState.BOUNCED:
        return False
    events = at.tx.events.stream(unit_stream(at.unit.unit_id))
    return all(
        one.payload.get("posting") != told.posting_id for one in events if one.kind == "notice_bounced"
    )


def _fail(at: At, posting: Posting, status: str) -> None:
    """Set aside the address, with whom it was written to; of owners who are one person that may be another."""
    mine = at.tx.people.contacts([posting.owner_id]).get(posting.owner_id, [])
    dead = [row for row in mine if row.channel == posting.channel and row.value == posting.address]
    at.tx.people.put_contacts(replace(row, fault=f"came back {status}") for row in dead)
    payload = {"channel": posting.channel, "value_key": "", "reason": status}
    failed = replace(at.of_owner("contact_failed", **payload), stream=owner_stream(posting.owner_id))
    record(at.tx, [failed], now=at.now)


_FOR_ALL = frozenset({"stopped", "in-use", "call", "bounced", "email", "phone", "help"})

WORDS: Mapping[str, Callable[[At], list[NewEvent]]] = {
    "stopped": _stop(stopped=True),
    "in-use": _stop(stopped=False),
    "use": _use,
    "lower": _lower,
    "code": _code(seen=False),
    "seen-code": _code(seen=True),
    "remedy": _remedy,
    "call": _call,
    "passed-on": _passed_on,
    "visit": _visit("visit_booked"),
    "visit-missed": _visit("visit_missed"),
    "parts": _parts,
    "done": _done,
    "confirmed": _confirmed,
    "taken-back": lambda at: [at.event("confirmation_taken_back")],
    "closed": _closed,
    "reopen": _reopened,
    "email": _email,
    "phone": _phone,
    "help": _help,
    "looked": _looked,
    "bounced": _bounced,
}
