"""How many of the units sold nobody knows: the campaign's numbers held against what the lists name."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from audiences.findings import Finding, Severity
from notices.cases.events import owner_stream
from notices.cases.records import UnitRow
from notices.cases.shops import shop_case
from notices.figures.gaps import PLACES, Cell, Gap, Gaps, gaps
from notices.work.counting import place_of
from notices.work.ports import Transaction, World
from notices.work.revisions import CAMPAIGN_FILE, draft, signed
from notices.work.shops import shops
from notices.work.units import SHOP, present


@dataclass(frozen=True, kw_only=True, slots=True)
class Missing:
    """The gaps, and what there is to say of the numbers they are counted from."""

    gaps: Gaps
    findings: tuple[Finding, ...]


def missing(world: World) -> Missing:
    """Return what was sold and stands on no list, by the signed revision's numbers, before it by the draft's."""
    with world.register.look() as tx:
        held = signed(tx)
        revision = held.revision if held else draft(world).revision
        sold = revision.campaign.product.sold if revision else None
        found = gaps(
            sold=sold.units if sold else None,
            by_shop=sold.by_shop if sold else {},
            listed=_listed(tx),
            by_word=_said(tx, world),
        )
    return Missing(gaps=found, findings=tuple(_findings(found)))


def _listed(tx: Transaction) -> Counter[Cell]:
    """Count the units on the lists, by who sold them: the list's own word for it, else the list's name."""
    units = tx.units.units()
    shops = _shops(tx)
    counted: Counter[Cell] = Counter()
    for row in tx.cases.all():
        if place_of(row.case) != "nowhere":
            unit = units[row.case.unit_id]
            counted[shops.get(unit.unit_id, ""), _month(unit)] += 1
    return counted


def _shops(tx: Transaction) -> Mapping[str, str]:
    owners = tx.people.owners()
    found = {
        row.unit_id: source.source_id
        for source in reversed(tx.lists.sources())
        for row in tx.lists.rows(source.source_id)
        if row.unit_id
    }
    sold_by = [one for one in present(tx.units.holdings()) if one.role == SHOP]
    return {**found, **{one.unit_id: owners[one.owner_id].name for one in sold_by}}


def _said(tx: Transaction, world: World) -> dict[str, int]:
    """Return how many units each shop says it sold."""
    cases = {
        owner.name: shop_case(tx.events.stream(owner_stream(owner.owner_id)))
        for owner in shops(tx, world).by_name.values()
    }
    return {name: case.sold for name, case in cases.items() if case.sold is not None}


def _month(unit: UnitRow) -> str:
    return unit.sold_on.isoformat()[: len("2025-09")] if unit.sold_on else ""


def _findings(found: Gaps) -> Iterator[Finding]:
    if found.sold is None:
        yield _sold_not_stated()
    elif found.by_shop is not None and found.by_shop != found.sold:
        yield _shops_differ(found.sold, found.by_shop)
    yield from (_shop_lists_more(gap) for gap in found.shops if gap.unknown is not None and gap.unknown < 0)


def _sold_not_stated() -> Finding:
    return Finding(
        code="sold-not-stated",
        file=CAMPAIGN_FILE,
        path="product.sold.units",
        message="nobody has said how many were sold, so nobody can say how many are unknown",
        mend="ask the books and the supplier, and write product.sold.units",
        severity=Severity.CONSIDER,
    )


def _shops_differ(sold: int, by_shop: int) -> Finding:
    return Finding(
        code="sold-by-shop-differs",
        file=CAMPAIGN_FILE,
        path="product.sold.by_shop",
        message=f"the shops' numbers add up to {by_shop}, and {sold} were sold in all",
        mend="ask the shops once more, and correct product.sold.by_shop or product.sold.units",
        severity=Severity.CONSIDER,
    )


def _shop_lists_more(gap: Gap) -> Finding:
    return Finding(
        code="shop-lists-more",
        file=CAMPAIGN_FILE,
        path=f"product.sold.by_shop.{gap.shop}",
        message=f"the lists name {gap.listed} units of {gap.shop}, and it sold {gap.sold}",
        mend="look for units that are listed twice, or correct its number",
        severity=Severity.CONSIDER,
    )


def as_json(found: Missing) -> dict[str, object]:
    """Return the gaps in the shape that other programs read: ``unknown = sold - listed``, None where not known."""
    whole = found.gaps
    return {
        "sold": whole.sold,
        "listed": whole.listed,
        "unknown": whole.unknown,
        "shops": [_shop(gap) for gap in whole.shops],
        "months": [{**_gap(gap), "month": gap.month} for gap in whole.months],
        "look_in": [
            {"where": one.where, "ask": one.ask, "why": one.why, "source": one.source} for one in PLACES
        ],
    }


def _gap(gap: Gap) -> dict[str, object]:
    return {"shop": gap.shop, "sold": gap.sold, "listed": gap.listed, "unknown": gap.unknown}


def _shop(gap: Gap) -> dict[str, object]:
    return {**_gap(gap), "by_word": gap.by_word}
