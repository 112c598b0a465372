"""Units that nobody knows: sold in all minus on any list, by shop and month, and where such units usually turn up."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from audiences.headings import plain

Cell = tuple[str, str]
"""A shop and a month (``2025-09``); "" where nobody says which."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Gap:
    """What was sold, by a shop in a month, and how much of it the lists name; *sold* None: nobody has said.

    *by_word* says that *sold* is the shop's own word, where our books have no number for it.
    """

    shop: str
    month: str
    sold: int | None
    listed: int
    by_word: bool = False

    @property
    def unknown(self) -> int | None:
        """Return how many of these units nobody knows; below 0 the lists name more than were sold."""
        return None if self.sold is None else self.sold - self.listed


@dataclass(frozen=True, kw_only=True, slots=True)
class Gaps:
    """The whole, the shops and their months: *sold* and *listed* are of all units, *shops* and *months* parts of it."""

    sold: int | None
    listed: int
    shops: tuple[Gap, ...]
    months: tuple[Gap, ...]

    @property
    def unknown(self) -> int | None:
        """Return how many of all units nobody knows."""
        return None if self.sold is None else self.sold - self.listed

    @property
    def by_shop(self) -> int | None:
        """Return the sum of what the shops sold by our books, None where they hold no shop's number."""
        known = [gap.sold for gap in self.shops if gap.sold is not None and not gap.by_word]
        return sum(known) if known else None


def gaps(
    *,
    sold: int | None,
    by_shop: Mapping[str, Mapping[str, int]],
    listed: Mapping[Cell, int],
    by_word: Mapping[str, int] | None = None,
) -> Gaps:
    """Count what is missing; *listed* holds how many units the lists name, by shop and month.

    *by_shop* are our books, *by_word* what shops say themselves that they sold: it counts where the books are silent.

    Shops are told apart by letters and digits alone, so that case and spaces make no second one. What the lists name
    counts for its shop in whatever month; a month that the shop's numbers do not hold has no number sold.
    """
    names = {plain(shop): shop for shop in by_shop}
    counted: dict[Cell, int] = {}
    for (shop, month), number in listed.items():
        cell = (names.setdefault(plain(shop), shop), month)
        counted[cell] = counted.get(cell, 0) + number
    told = {(shop, month): number for shop, months in by_shop.items() for month, number in months.items()}
    months = tuple(
        Gap(shop=shop, month=month, sold=told.get((shop, month)), listed=counted.get((shop, month), 0))
        for shop, month in sorted({*told, *counted}, key=lambda cell: (not cell[0], *cell))
    )
    return Gaps(
        sold=sold,
        listed=sum(listed.values()),
        shops=tuple(_by_shop(months, by_shop, _told(by_word or {}, names))),
        months=months,
    )


def _told(by_word: Mapping[str, int], names: Mapping[str, str]) -> dict[str, int]:
    """Return what shops say, under the names that they have in books and lists."""
    return {names.get(plain(shop), shop): number for shop, number in by_word.items()}


def _by_shop(
    months: tuple[Gap, ...], by_shop: Mapping[str, Mapping[str, int]], told: Mapping[str, int]
) -> Iterator[Gap]:
    for shop in dict.fromkeys([*(gap.shop for gap in months), *told]):
        mine = by_shop.get(shop)
        listed = sum(gap.listed for gap in months if gap.shop == shop)
        sold = told.get(shop) if mine is None else sum(mine.values())
        yield Gap(shop=shop, month="", sold=sold, listed=listed, by_word=mine is None and shop in told)


@dataclass(frozen=True, kw_only=True, slots=True)
class Place:
    """Somewhere that names owners whom no sales list has: what to ask for, and why the list lacks them."""

    where: str
    ask: str
    why: str
    source: str = "common practice, no source"


PLACES: tuple[Place, ...] = (
    Place(
        where="mail lists",
        ask="the unsubscribed, the bounced and the blocked, exported by themselves",
        why="exports silently leave out who declined advertising; a safety notice is none",
    ),
    Place(
        where="web shop",
        ask="orders without an account (guest orders), by market place too",
        why="a list of customers holds accounts, not orders",
    ),
    Place(
        where="workshop book",
        ask="job cards with a name or a number, first inspections above all",
        why="the workshop keeps its own book, and second owners stand only there",
    ),
    Place(
        where="warranty cards",
        ask="cards and registrations, on paper too",
        why="they come from the owner, long after the sale",
    ),
    Place(
        where="leasing firms",
        ask="contracts by code or day; the firm forwards what we may not send",
        why="the list names the firm that paid, not who has the unit",
    ),
    Place(
        where="till",
        ask="invoices with a name, loyalty cards, repairs paid later, card slips by the bank that issued them",
        why="a cash sale writes down no name",
    ),
    Place(
        where="deliveries",
        ask="the carrier's delivery notes and pick-up slips",
        why="they name who took it, which may be another than who paid",
    ),
    Place(
        where="our own house",
        ask="units lent, shown, given away, sold to staff or returned and sold again",
        why="they pass no till",
    ),
)
"""Where units that nobody knows usually turn up, the likeliest first."""
