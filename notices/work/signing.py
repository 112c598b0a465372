"""Sign: the draft becomes the revision, every unit is judged by it, and its variants may go out."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from audiences.findings import Finding, must_mend
from audiences.verdicts import Verdict
from notices.campaign.loading import is_aside
from notices.campaign.revisions import Revision
from notices.cases.case import Case
from notices.cases.owed import CORRECTIONS
from notices.cases.sayings import saying
from notices.work import judging
from notices.work.adopting import adopt, put_signatures, withdraw
from notices.work.links import prepare_secrets
from notices.work.ports import Transaction, World
from notices.work.proving import Item, Needed, needed
from notices.work.revisions import CAMPAIGN_FILE, judge_by, signed

GONE_OUT = "gone-out"
NUMBER_USED = "revision-number-used"


@dataclass(frozen=True, kw_only=True, slots=True)
class SigningPlan:
    """What a signature would do: printed before it is asked for.

    *verdicts* counts the units by the verdict they change to, *corrections* the owners owed one, *calls* the units that
    were safe by our word and no longer are, *withdrawn* the postings that would no longer go; *adopts* says whether the
    draft becomes a revision, *warning* that it promises no remedy yet.
    """

    number: int
    adopts: bool
    verdicts: Mapping[str, int]
    instructions: int
    corrections: int
    withdrawn: int
    items: tuple[Item, ...]
    findings: tuple[Finding, ...]
    warning: bool = False
    calls: int = 0

    @property
    def held_back(self) -> bool:
        """Say whether something must be mended before anything can be signed.

        Where somebody is owed a variant, each variant's own findings decide; else those of campaign.yaml do.
        """
        wrong = [one for one in must_mend(self.findings) if one.file == CAMPAIGN_FILE]
        weigh = [one for one in wrong if not (self.warning and is_aside(one.path))]
        return any(one.code == NUMBER_USED for one in wrong) or bool(weigh and not self.items)


@dataclass(frozen=True, kw_only=True, slots=True)
class Signed:
    """What was signed: the revision's number, whether it was adopted, variants signed, signed already, held back.

    *unread* are those that wait for the signer's word, because nobody has read their language.
    """

    number: int
    adopted: bool
    signed: int
    already: int
    held: tuple[Item, ...]
    unread: tuple[Item, ...]
    unknown: tuple[str, ...]
    findings: tuple[Finding, ...]


def plan(world: World) -> SigningPlan:
    """Say what signing the draft would do; change nothing."""
    return _plan(world, needed(world))


def _plan(world: World, proofs: Needed) -> SigningPlan:
    revision = proofs.draft.revision
    if revision is None:
        return SigningPlan(
            number=0, adopts=False, verdicts={}, instructions=0, corrections=0, withdrawn=0, items=(),
            findings=proofs.findings,
        )  # fmt: skip
    with world.register.look() as tx:
        held = signed(tx)
        adopts = held is None or held.digest != proofs.draft.digest
        cases = {row.case.unit_id: row.case for row in tx.cases.all()}
        changes = judging.changed(
            judge_by(revision), [(unit, cases.get(unit.unit_id)) for unit in tx.units.units().values()]
        )
        corrections = {debt.owner.owner_id for debt in proofs.owing if debt.owed.kind in CORRECTIONS}
        return SigningPlan(
            number=revision.number,
            adopts=adopts,
            verdicts=Counter(
                str(one.judgement.verdict) for one in changes if one.judgement.verdict != one.before
            ),
            instructions=_instructions(revision, held.revision if held else None, changes, cases),
            corrections=len(corrections),
            withdrawn=len(proofs.void),
            calls=sum(map(judging.unsafe_after_all, changes)),
            items=proofs.items,
            warning=revision.campaign.remedies is None,
            findings=(*proofs.findings, *_number_findings(tx, revision, proofs, adopts=adopts)),
        )


def _instructions(
    revision: Revision,
    before: Revision | None,
    changes: Sequence[judging.Judged],
    cases: Mapping[str, Case],
) -> int:
    """Count the units to whose owners something else is now said than under the revision before."""
    now = {one.unit.unit_id: str(one.judgement.verdict) for one in changes}
    if before is None:
        return len(now)
    count = 0
    for unit_id, case in cases.items():
        old, new = case.verdict, now.get(unit_id, case.verdict)
        if old is None or new is None or _said(before, old, case) != _said(revision, new, case):
            count += 1
    return count


def _said(revision: Revision, verdict: str, case: Case) -> str:
    return saying(revision.campaign, Verdict(verdict), case.segment).said


def _number_findings(
    tx: Transaction, revision: Revision, proofs: Needed, *, adopts: bool
) -> tuple[Finding, ...]:
    """Ask for a higher number once something has gone out or been published under the number."""
    held = signed(tx)
    if held is None or not adopts:
        return ()
    used = gone_out(tx, held.number)
    lines = proofs.draft.lines
    if revision.number < held.number or (revision.number == held.number and used):
        return (
            Finding(
                code="revision-number-used",
                file=CAMPAIGN_FILE,
                line=lines.get("revision.number", lines.get("revision", 1)),
                path="revision.number",
                message=f"revision {held.number} has gone out or been published, and the draft differs from it",
                mend=f"give the draft a number above {held.number}, its day, and the reason under why",
            ),
        )
    return ()


def gone_out(tx: Transaction, number: int) -> bool:
    """Say whether anything has gone out or been published under a revision's number."""
    return tx.safe.note(f"{GONE_OUT}:{number}") is not None


def note_gone_out(tx: Transaction, number: int) -> None:
    """Remember that a revision can no longer be replaced under its number."""
    if not gone_out(tx, number):
        tx.safe.put_note(f"{GONE_OUT}:{number}", "yes")


def sign(world: World, *, by: str, which: Sequence[str] | None = None, unread_too: bool = False) -> Signed:
    """Adopt the draft where it differs, judge every unit by it, and sign variants by name or fingerprint.

    *which* None signs all. A variant of which something must be mended is held back, and holds back no other.
    *unread_too* is the signer's word for wording that nobody has read; without it that waits.
    """
    proofs = needed(world)
    planned = _plan(world, proofs)
    wanted, unknown = _wanted(planned.items, which)
    good = [item for item in wanted if item.may_go]
    may = [item for item in good if unread_too or item.signed_by or not item.unread]
    unread = tuple(item for item in good if item not in may)
    held = tuple(item for item in wanted if not item.may_go)
    revision = proofs.draft.revision
    if revision is None or planned.held_back or (wanted and not may):
        return Signed(
            number=planned.number, adopted=False, signed=0, already=0, held=held, unread=unread, unknown=unknown,
            findings=planned.findings,
        )  # fmt: skip
    new = [item for item in may if not item.signed_by]
    with world.register.change() as tx:
        now = world.now()
        prepare_secrets(tx, world)
        if planned.adopts:
            adopt(tx, revision, by=by, now=now)
        withdraw(tx, proofs)
        put_signatures(tx, revision, new, by=by, now=now)
    return Signed(
        number=planned.number,
        adopted=planned.adopts,
        signed=len(new),
        already=len(may) - len(new),
        held=held,
        unread=unread,
        unknown=unknown,
        findings=planned.findings,
    )


def _wanted(items: Sequence[Item], which: Sequence[str] | None) -> tuple[list[Item], tuple[str, ...]]:
    if which is None:
        return list(items), ()
    chosen: list[Item] = []
    unknown = []
    for name in which:
        found = [item for item in items if name in {item.name, item.composed.fingerprint[: len(name)]}]
        chosen.extend(item for item in found if item not in chosen)
        if not found:
            unknown.append(name)
    return chosen, tuple(unknown)
