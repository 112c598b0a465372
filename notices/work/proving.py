"""What somebody gets next: each variant composed from the draft, with its owners, signatures and findings."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from audiences import canonical
from audiences.findings import Finding, Severity, must_mend
from audiences.segments import Segment
from audiences.verdicts import Verdict
from notices.campaign import needs
from notices.campaign.loading import is_aside
from notices.campaign.overruling import Overruling, with_overrulings
from notices.campaign.revisions import Revision
from notices.cases.case import Case
from notices.cases.events import chained
from notices.cases.folding import step
from notices.cases.owed import STOPS
from notices.cases.records import PostingState, VariantRow
from notices.compose.mail import compose_mail, sample_values
from notices.compose.proofs import Proof, proof_pages
from notices.compose.values import FORMS
from notices.compose.variants import Composed, VariantKey
from notices.wording.catalogues import Catalogue, nearest, read_catalogue
from notices.wording.languages import canonical as canonical_tag
from notices.work import gates, judging
from notices.work.overruling import overrulings
from notices.work.owing import Owing, behind_gates, owing
from notices.work.ports import Transaction, World
from notices.work.revisions import Draft, draft, in_language, judge_by

# What no stop warning says, in whatever language: a fault there keeps none back.
_OF_A_REMEDY = frozenset({"remedies", "free", "answer_within", "cautions", "confirm", "parts"})


@dataclass(frozen=True, kw_only=True, slots=True)
class Item:
    """One variant: what was composed, for how many owners, who has signed it, what there is to say of it.

    *unread*: nobody who grew up with its language has read it, so that it goes out at a signer's word alone.
    """

    key: VariantKey
    composed: Composed
    owners: int
    signed_by: tuple[str, ...]
    findings: tuple[Finding, ...]
    unread: bool = False

    @property
    def name(self) -> str:
        """Return the name to sign it by."""
        return self.key.name

    @property
    def overruled(self) -> int:
        """Count the findings that somebody has overruled."""
        return sum(one.severity is Severity.OVERRULED for one in self.findings)

    @property
    def may_go(self) -> bool:
        """Say whether nothing about it must be mended."""
        return not must_mend(self.findings)


@dataclass(frozen=True, kw_only=True, slots=True)
class Needed:
    """Every variant that somebody gets next, most owners first; *no_address* counts owners whom this channel misses.

    *held* counts those of each market that waits: their variants are among the items, to be signed beforehand. *void*
    names the waiting postings whose variant the draft would say otherwise.
    """

    draft: Draft
    items: tuple[Item, ...]
    owing: tuple[Owing, ...]
    no_address: int
    void: frozenset[str]
    findings: tuple[Finding, ...]
    held: tuple[gates.Held, ...] = ()


def needed(world: World) -> Needed:
    """Compose from the draft every variant that at least one owner gets next."""
    drafted = draft(world)
    if drafted.revision is None:
        return Needed(
            draft=drafted, items=(), owing=(), no_address=0, void=frozenset(), findings=drafted.findings
        )
    with world.register.look() as tx:
        cases = judged_cases(tx, drafted.revision, world)
        void = _void(tx, world, drafted.revision)
        debts = owing(tx, drafted.revision, today=world.now().date(), cases=cases, void=void)
        by = _signatures(tx)
        words = overrulings(tx)
    return _needed(world, drafted, drafted.revision, debts, by, void, words)


def _needed(
    world: World,
    drafted: Draft,
    revision: Revision,
    debts: list[Owing],
    by: Mapping[str, tuple[str, ...]],
    void: frozenset[str],
    words: Mapping[str, Overruling],
) -> Needed:
    lacking = with_overrulings(needs.lacking(revision.campaign, "proofs", drafted.lines), revision, words)
    findings = (*with_overrulings(drafted.findings, revision, words), *lacking)
    owners: dict[VariantKey, set[str]] = {}
    for debt in debts:
        if debt.address is not None:
            owners.setdefault(debt.key, set()).add(debt.owner.owner_id)
    items = [
        _item(world, revision, key, len(who), by, findings, drafted.lines)
        for key, who in sorted(owners.items(), key=lambda pair: (-len(pair[1]), pair[0].name))
        if not _silent(lacking)
    ]
    missed = {debt.owner.owner_id for debt in debts if debt.address is None}
    return Needed(
        draft=drafted,
        items=tuple(items),
        owing=tuple(debts),
        no_address=len(missed),
        void=void,
        findings=findings,
        held=behind_gates(debts),
    )


def _void(tx: Transaction, world: World, revision: Revision) -> frozenset[str]:
    """Return the waiting postings whose variant this revision would compose otherwise, or not at all."""
    waiting = list(tx.outbox.postings(state=PostingState.WAITING))
    rows = tx.variants.get(sorted({posting.fingerprint for posting in waiting}))
    closed = gates.closed(tx, revision.campaign)
    alive = {
        row.fingerprint
        for row in rows.values()
        if (row.kind in STOPS) == (revision.campaign.remedies is None or row.market in closed)
        and compose(world, revision, key_of(row)).fingerprint == row.fingerprint
    }
    return frozenset(posting.posting_id for posting in waiting if posting.fingerprint not in alive)


def key_of(row: VariantRow) -> VariantKey:
    """Return the key under which a stored variant was composed."""
    return VariantKey(
        kind=row.kind,
        channel=row.channel,
        verdict=Verdict(row.verdict),
        segment=Segment(row.segment),
        market=row.market,
        language=row.language,
    )


def _silent(lacking: Iterable[Finding]) -> bool:
    """Say whether so much is lacking that nothing can be composed at all."""
    return bool(must_mend(lacking))


def _item(
    world: World,
    revision: Revision,
    key: VariantKey,
    owners: int,
    by: Mapping[str, tuple[str, ...]],
    findings: Iterable[Finding],
    lines: Mapping[str, int],
) -> Item:
    composed = compose(world, revision, key, lines)
    return Item(
        key=key,
        composed=composed,
        owners=owners,
        signed_by=by.get(composed.fingerprint, ()),
        findings=(*composed.findings, *(one for one in findings if concerns(one, key, revision))),
        unread=unread(world, revision, key.language),
    )


def compose(
    world: World, revision: Revision, key: VariantKey, lines: Mapping[str, int] | None = None
) -> Composed:
    """Compose one variant of a revision; *lines* gives its findings their place in the draft."""
    return compose_mail(
        in_language(revision, key.language),
        key,
        catalogue(world, key.language),
        world.templates,
        revision.pictures,
        lines=lines,
        source=revision.campaign if unread(world, revision, key.language) else None,
    )


def unread(world: World, revision: Revision, tag: str) -> bool:
    """Say whether nobody has read the lead's wording in *tag*, or ours; who signs reads the source language itself."""
    source = canonical_tag(revision.campaign.language).partition("-")[0]
    if canonical_tag(tag).partition("-")[0] == source:
        return False
    return tag in revision.unread or catalogue(world, tag).unread


def catalogue(world: World, tag: str, domain: str = "notices") -> Catalogue:
    """Read a shipped catalogue; English where neither the language nor one that serves its readers has one."""
    text = nearest(world.catalogues, tag, domain)
    return read_catalogue(
        text if text is not None else world.catalogues[f"en/{domain}"], tag if text else "en"
    )


def concerns(finding: Finding, key: VariantKey, revision: Revision) -> bool:
    """Say whether a finding is about this variant.

    A faulty language holds back only itself, and a fault of remedy, code or price no stop warning.
    """
    if finding.file.startswith("translations/"):
        mine = finding.file == f"translations/{key.language}.po"
        return mine and not (key.kind in STOPS and finding.path.partition(".")[0] in _OF_A_REMEDY)
    if key.kind in STOPS or revision.campaign.remedies is None:
        return not (is_aside(finding.path) or finding.path.partition(".")[0] in _OF_A_REMEDY)
    return True


def judged_cases(tx: Transaction, revision: Revision, world: World) -> list[Case]:
    """Return every case as it would be judged by *revision*, in memory."""
    held = {row.case.unit_id: row.case for row in tx.cases.all()}
    pairs = [(unit, held.get(unit.unit_id)) for unit in tx.units.units().values()]
    now = world.now()
    for judged in judging.changed(judge_by(revision), pairs):
        unit_id = judged.unit.unit_id
        news = judging.as_event(
            revision.campaign, judged.unit, judged.judgement, at=now, actor="program", via="command"
        )
        before = held.get(unit_id) or Case(unit_id=unit_id)
        held[unit_id] = step(before, chained(news, seq=before.version + 1, recorded_at=now, before=""))
    return list(held.values())


def _signatures(tx: Transaction) -> dict[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for signature in tx.variants.signatures():
        found[signature.fingerprint] = (*found.get(signature.fingerprint, ()), signature.signed_by)
    return found


def write_proofs(world: World) -> Needed:
    """Write ``out/proofs/``: a page that lists what somebody gets next, and each variant to be read."""
    found = needed(world)
    revision = found.draft.revision
    if revision is not None:
        pages = proof_pages(
            revision.campaign,
            [_proof(world, revision, item) for item in found.items],
            catalogue(world, revision.campaign.language, "bureau"),
            world.templates,
            revision.pictures,
            date=world.now(),
        )
        for name, data in pages.items():
            world.folder.write(f"out/proofs/{name}", data)
    return found


def _proof(world: World, revision: Revision, item: Item) -> Proof:
    campaign = in_language(revision, item.key.language)
    market = campaign.markets.get(item.key.market)
    country = market.countries[0] if market and market.countries else campaign.issuer.country
    spoken = catalogue(world, item.key.language)
    return Proof(
        composed=item.composed,
        owners=item.owners,
        samples={
            form: canonical.dump(sample_values(campaign, spoken, country=country, form=form))
            for form in FORMS
        },
        signed_by=item.signed_by,
        findings=item.findings,
        unread=item.unread,
    )
