"""Write a signature down: the revision, the verdicts that follow, the postings it withdraws, the variants signed."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime

from audiences.verdicts import Verdict
from notices.campaign.revisions import Revision, to_content
from notices.campaign.revisions import digest as content_digest
from notices.cases.case import PUT_AWAY
from notices.cases.due import CaseRow
from notices.cases.events import CAMPAIGN, NewEvent, unit_stream
from notices.cases.owed import STOPS
from notices.cases.records import PostingState, RevisionRow, Signature, VariantRow
from notices.cases.sayings import saying, warning
from notices.work import judging
from notices.work.overruling import carried
from notices.work.ports import Transaction
from notices.work.proving import Item, Needed
from notices.work.recording import record, refresh
from notices.work.revisions import judge_by


def adopt(tx: Transaction, revision: Revision, *, by: str, now: datetime) -> None:
    """Store the revision, judge every unit by it, and write what is due under it."""
    content = to_content(revision)
    row = RevisionRow(
        number=revision.number, adopted_at=now, adopted_by=by, content=content, digest=content_digest(content)
    )
    tx.papers.put_revision(row)
    cases = {row.case.unit_id: row for row in tx.cases.all()}
    pairs = [
        (unit, held.case if (held := cases.get(unit.unit_id)) else None) for unit in tx.units.units().values()
    ]
    changes = judging.changed(judge_by(revision), pairs)
    events = [
        NewEvent(
            stream=CAMPAIGN,
            kind="revision_adopted",
            at=now,
            actor=by,
            via="command",
            payload={
                "number": revision.number,
                "digest": row.digest,
                "why": revision.campaign.revision.why or "",
            },
        ),
        *(
            judging.as_event(
                revision.campaign, one.unit, one.judgement, at=now, actor="program", via="command"
            )
            for one in changes
        ),
        *(
            _look_at(one, now)
            for one in changes
            if one.judgement.verdict == Verdict.MISSING and one.judgement.near
        ),
        *(_open_again(one, now) for one in changes if _closed_as_safe(one, cases)),
    ]
    record(tx, events, now=now)
    refresh(tx, [row.case for row in tx.cases.all()])


def _closed_as_safe(one: judging.Judged, cases: Mapping[str, CaseRow]) -> bool:
    """Say whether a unit's case ended, otherwise than by leaving its owner's hands, and it is affected after all."""
    row = cases.get(one.unit.unit_id)
    ended = row is not None and row.case.ending not in {None, "cleared", "listed_twice", *PUT_AWAY}
    return ended and judging.unsafe_after_all(one)


def _open_again(one: judging.Judged, now: datetime) -> NewEvent:
    return _of_unit(one, "case_reopened", {"why": "told safe before, and now affected"}, now)


def _look_at(one: judging.Judged, now: datetime) -> NewEvent:
    """Set aside a code known by word alone that would let its unit go: a person asks for a photo of it."""
    return _of_unit(one, "answer_set_aside", {"of": "code_given", "why": "near", "text": ""}, now)


def _of_unit(one: judging.Judged, kind: str, payload: Mapping[str, object], now: datetime) -> NewEvent:
    """Return what the program itself notes of a unit when a revision is signed."""
    return NewEvent(
        stream=unit_stream(one.unit.unit_id),
        kind=kind,
        at=now,
        actor="program",
        via="command",
        payload=payload,
    )


def withdraw(tx: Transaction, proofs: Needed) -> None:
    """Withdraw the postings whose variant is said otherwise now and that still wait: a run may have sent some since."""
    if not proofs.void:
        return
    waiting = list(tx.outbox.postings(state=PostingState.WAITING, posting_ids=sorted(proofs.void)))
    for posting in waiting:
        withdrawn = replace(posting, state=PostingState.WITHDRAWN, why="a newer revision says it otherwise")
        tx.outbox.settle(withdrawn, None, since=posting)


def put_signatures(
    tx: Transaction, revision: Revision, items: Sequence[Item], *, by: str, now: datetime
) -> None:
    """Write the variants, what they say, and who signed them."""
    tx.variants.put(
        (
            VariantRow(
                fingerprint=item.composed.fingerprint,
                kind=item.key.kind,
                channel=item.key.channel,
                verdict=item.key.verdict,
                segment=item.key.segment,
                market=item.key.market,
                language=item.key.language,
                said=item.composed.said,
                content=item.composed.content,
                made_at=now,
            )
            for item in items
        ),
        sayings=[
            saying(
                warning(revision.campaign) if item.key.kind in STOPS else revision.campaign,
                item.key.verdict,
                item.key.segment,
            )
            for item in items
        ],
    )
    overruled = {item.composed.fingerprint: carried(item.findings, revision) for item in items}
    unread = {item.composed.fingerprint: {"unread": True} for item in items if item.unread}
    tx.variants.sign(
        Signature(fingerprint=fingerprint, signed_by=by, at=now, overruled=findings)
        for fingerprint, findings in overruled.items()
    )
    record(
        tx,
        [
            NewEvent(
                stream=CAMPAIGN,
                kind="variant_signed",
                at=now,
                actor=by,
                via="command",
                payload={"fingerprint": fingerprint, "overruled": findings, **unread.get(fingerprint, {})},
            )
            for fingerprint, findings in overruled.items()
        ],
        now=now,
    )
