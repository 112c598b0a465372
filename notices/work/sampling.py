"""Test messages: the draft's variants with invented values, to an address of the lead's own, outside the outbox."""

from collections.abc import Sequence
from dataclasses import dataclass

from audiences import addresses, canonical
from audiences.findings import Finding
from audiences.segments import Segment
from audiences.verdicts import Verdict
from notices.campaign.revisions import Revision
from notices.cases import ids
from notices.cases.outgoing import Outcome, Parcel
from notices.compose.mail import message_bytes
from notices.compose.values import sample_values
from notices.compose.variants import VariantKey
from notices.work.ports import World
from notices.work.proving import catalogue, compose, needed
from notices.work.revisions import in_language, written_in
from notices.work.ways_out import WayOut

_MOST = 12  # a test is read by a person


@dataclass(frozen=True, kw_only=True, slots=True)
class Tested:
    """What became of the test: each variant's name with its outcome, and what is wrong with the draft."""

    outcomes: tuple[tuple[str, Outcome], ...]
    findings: tuple[Finding, ...]


def send_test(world: World, way: WayOut, address: str) -> Tested:
    """Hand the draft's variants over to *address*, most owners first, each marked as a test; nobody counts as told.

    Raises WayOutError where the way out cannot be used, ValueError where *address* is none.
    """
    point = addresses.email(address)
    if point.fault or not point.value:
        raise ValueError("this is no address that mail can be sent to")
    proofs = needed(world)
    revision = proofs.draft.revision
    if revision is None:
        return Tested(outcomes=(), findings=proofs.findings)
    keys = [item.key for item in proofs.items][:_MOST] or _one_a_language(revision)
    parcels = [(key.name, _parcel(world, revision, key, point.value)) for key in keys]
    return Tested(outcomes=tuple(_handed_over(way, parcels)), findings=proofs.findings)


def _one_a_language(revision: Revision) -> list[VariantKey]:
    """Return the notice that most owners would get, in each language, where nobody is listed yet."""
    market = next(iter(revision.campaign.markets), "")
    kind = "stop" if revision.campaign.remedies is None else "first"
    return [
        VariantKey(
            kind=kind,
            channel="email",
            verdict=Verdict.AFFECTED,
            segment=Segment.UNKNOWN,
            market=market,
            language=tag,
        )
        for tag in written_in(revision)
    ]


def _parcel(world: World, revision: Revision, key: VariantKey, address: str) -> Parcel:
    campaign = in_language(revision, key.language)
    market = campaign.markets.get(key.market)
    values = sample_values(
        campaign,
        catalogue(world, key.language),
        country=market.countries[0] if market and market.countries else campaign.issuer.country,
        form="none" if key.verdict is Verdict.MISSING else "one",
    )
    sender = campaign.issuer.email or address
    message_id = f"<test-{ids.long_id(world.draw).lower()}@{sender.rpartition('@')[2]}>"
    data = message_bytes(
        compose(world, revision, key).content,
        canonical.dump(values),
        to=address,
        date=world.now(),
        message_id=message_id,
        pictures=revision.pictures,
        test=True,
    )
    return Parcel(message_id=message_id, sender=sender, recipient=address, data=data)


def _handed_over(way: WayOut, parcels: Sequence[tuple[str, Parcel]]) -> list[tuple[str, Outcome]]:
    line = way.open()
    try:
        return [(name, line.hand_over(parcel)) for name, parcel in parcels]
    finally:
        line.close()
