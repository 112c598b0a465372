"""Look at postings again at their try: what has changed since they were made withdraws them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from audiences.verdicts import SAFE
from notices.cases.case import Case
from notices.cases.due import CaseRow
from notices.cases.follow_ups import going_by_itself
from notices.cases.owed import CORRECTIONS, REMIND_STOP, STOPS, Earlier, owed, reminded_step, while_held
from notices.cases.records import ContactRow, Posting, PostingUnit, Told, VariantRow
from notices.work.gates import Gate, closed
from notices.work.persons import Persons, persons
from notices.work.ports import Transaction, World
from notices.work.posting import compiled
from notices.work.proving import key_of
from notices.work.revisions import Signed, said_before, signed
from notices.work.signing import note_gone_out
from notices.work.units import present, usable


@dataclass(frozen=True, kw_only=True, slots=True)
class _Standing:
    """What is known now of the postings in question: their variants and units, and who holds and was told what."""

    held: Signed
    variants: Mapping[str, VariantRow]
    signed: frozenset[str]
    units: Mapping[str, list[PostingUnit]]
    holds: frozenset[tuple[str, str]]
    contacts: Mapping[str, list[ContactRow]]
    cases: Mapping[str, CaseRow]
    told: Mapping[tuple[str, str], list[Told]]
    earlier: Sequence[Earlier]
    persons: Persons
    gates: Mapping[str, Gate]
    today: date


def look_again(world: World, tx: Transaction, postings: Sequence[Posting]) -> dict[str, str]:
    """Return why postings must not go any more, by posting; where one still may, its revision has gone out."""
    held = signed(tx)
    if held is None:
        return {one.posting_id: "no revision is signed" for one in postings}
    now = _standing(tx, held, postings, world.now().date())
    reasons = {}
    for one in postings:
        reason = _not_signed(world, now, one) or _no_longer_asked(now, one)
        if reason is not None:
            reasons[one.posting_id] = reason
    if len(reasons) < len(postings):
        note_gone_out(tx, held.number)
    return reasons


def _standing(tx: Transaction, held: Signed, postings: Sequence[Posting], today: date) -> _Standing:
    decided = persons(tx)
    variants = tx.variants.get([one.fingerprint for one in postings])
    units = tx.record.units_of([one.posting_id for one in postings])
    unit_ids = [unit.unit_id for some in units.values() for unit in some]
    spoken_to = {one.owner_id for one in postings}
    owners = sorted(spoken_to.union(unit.owner_id for some in units.values() for unit in some))
    told: dict[tuple[str, str], list[Told]] = {}
    for one in tx.record.told(unit_ids):
        if not decided.counts(one.posting_id, one.owner_id):
            continue
        told.setdefault((one.unit_id, one.owner_id), []).append(one)
    corrects = any(row.kind in CORRECTIONS for row in variants.values())
    return _Standing(
        held=held,
        variants=variants,
        signed=frozenset(one.fingerprint for one in tx.variants.signatures()),
        units=units,
        holds=frozenset((one.owner_id, one.unit_id) for one in present(tx.units.holdings(owner_ids=owners))),
        contacts=tx.people.contacts(owners),
        cases=tx.cases.get(unit_ids),
        told=told,
        earlier=said_before(tx) if corrects else (),
        persons=decided,
        gates=closed(tx, held.campaign),
        today=today,
    )


def _not_signed(world: World, now: _Standing, posting: Posting) -> str | None:
    row = now.variants.get(posting.fingerprint)
    if row is None or posting.fingerprint not in now.signed:
        return "its signature was taken back"
    if compiled(world, now.held, key_of(row)) != posting.fingerprint:
        return "what was signed is no longer what would be composed"
    return None


def _no_longer_asked(now: _Standing, posting: Posting) -> str | None:
    units = now.units.get(posting.posting_id, [])
    if not units or any((unit.owner_id, unit.unit_id) not in now.holds for unit in units):
        return "its owner no longer has the unit"
    others = {unit.owner_id for unit in units} - {posting.owner_id}
    if others and not others.issubset(now.persons.of(posting.owner_id)):
        return "its owner is not the one whose units it names"
    contacts = now.contacts.get(posting.owner_id, [])
    live = {contact.value for contact in contacts if contact.channel == posting.channel and not contact.fault}
    if posting.address not in live:
        return "its address can no longer be used"
    row = now.variants[posting.fingerprint]
    if row.kind not in STOPS and row.market in now.gates:
        return f"the market {row.market} waits: {now.gates[row.market].why}"
    if not all(_asks(now, now.cases[unit.unit_id].case, unit, row) for unit in units):
        return "what is known of the unit asks for something else now"
    return None


def _asks(now: _Standing, case: Case, unit: PostingUnit, row: VariantRow) -> bool:
    """Say whether the unit's case, looked at without this posting, still asks for it."""
    campaign = now.held.campaign
    reminded = reminded_step(unit.occasion)
    if row.kind == REMIND_STOP and row.market not in now.gates:
        return False
    if reminded is not None:
        channels = usable(now.contacts.get(unit.owner_id, []))
        due = going_by_itself(case, campaign, channels)
        return (
            due is not None and due.step == reminded and due.on <= now.today and case.verdict == row.verdict
        )
    told = now.told.get((unit.unit_id, unit.owner_id), [])
    others = [one for one in told if one.posting_id != unit.posting_id]
    what = owed(case, campaign, others, now.earlier)
    if what is not None and what.kind not in STOPS and row.market in now.gates:
        what = while_held(what, case, campaign, others)
    return (
        what is not None
        and what.occasion == unit.occasion
        and what.verdict == row.verdict
        and (what.segment == row.segment or row.verdict in SAFE)
    )
