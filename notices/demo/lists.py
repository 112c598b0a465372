"""The sales lists as they came: three sources, three sorts of headings, and rows that name a sale twice."""

import csv
import io
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from random import Random

from notices.demo import owners
from notices.demo.owners import PARTNER, TILL, WEB, Owner
from notices.demo.units import Stamped

REPEATED = 4
_BOM = "\ufeff"


@dataclass(frozen=True, kw_only=True, slots=True)
class Sale:
    """One unit as a shop sold it, under the shop's own number."""

    shop: str
    number: str
    unit: Stamped
    owner: Owner


@dataclass(frozen=True, kw_only=True, slots=True)
class Lists:
    """The invented owners, each sale, and the lists as bytes by the list's name."""

    owners: tuple[Owner, ...]
    sales: tuple[Sale, ...]
    files: Mapping[str, bytes]


@dataclass(frozen=True, kw_only=True, slots=True)
class _Shape:
    """How one shop keeps its list."""

    headings: tuple[str, ...]
    row: Callable[[Sale], tuple[str, ...]]
    number: Callable[[int], str]
    head: str = ""


def made(seed: int) -> Lists:
    """Return owners, sales and lists drawn from *seed*; the same seed gives the same bytes."""
    rng = Random(seed)  # noqa: S311 - a story that repeats, not a secret
    people = owners.made(rng)
    sales = _sales(people)
    again = rng.sample([sale for sale in sales if len(sale.owner.units) == 1], REPEATED)
    files = {shop: _written(shop, [sale for sale in sales if sale.shop == shop], again) for shop in SHAPES}
    return Lists(owners=tuple(people), sales=tuple(sales), files=files)


def _sales(people: Iterable[Owner]) -> list[Sale]:
    """Return the sales, numbered by each shop in the order of their days."""
    sold = sorted(
        ((unit, owner) for owner in people for unit in owner.units),
        key=lambda pair: (pair[0].sold_on, pair[0].stamped),
    )
    counts = dict.fromkeys(SHAPES, 0)
    found = []
    for unit, owner in sold:
        counts[owner.shop] += 1
        number = SHAPES[owner.shop].number(counts[owner.shop])
        found.append(Sale(shop=owner.shop, number=number, unit=unit, owner=owner))
    return found


def _written(shop: str, sales: Iterable[Sale], again: Iterable[Sale]) -> bytes:
    shape = SHAPES[shop]
    text = io.StringIO()
    rows = csv.writer(text, lineterminator="\r\n")
    rows.writerow(shape.headings)
    rows.writerows(shape.row(sale) for sale in (*sales, *(one for one in again if one.shop == shop)))
    return (shape.head + text.getvalue()).encode()


def _web(sale: Sale) -> tuple[str, ...]:
    owner = sale.owner
    return (
        sale.number,
        sale.unit.sold_on.isoformat(),
        "" if owner.firm else owner.given,
        "" if owner.firm else owner.family,
        owner.name if owner.firm else "",
        owner.email,
        owner.phone,
        owner.street,
        owner.postcode,
        owner.town,
        owner.country,
        owner.language,
        sale.unit.listed_code,
    )


def _till(sale: Sale) -> tuple[str, ...]:
    owner = sale.owner
    countries = {"IE": "Ireland", "GB": "United Kingdom"}
    return (
        sale.number,
        sale.unit.sold_on.isoformat(),
        sale.unit.listed_code.replace("-", " "),
        owner.name,
        owner.phone,
        owner.email,
        f"{owner.street}, {owner.postcode} {owner.town}",
        countries[owner.country],
    )


def _partner(sale: Sale) -> tuple[str, ...]:
    owner = sale.owner
    countries = {"DE": "Deutschland", "PL": "Polen"}
    return (
        sale.number,
        sale.unit.sold_on.strftime("%d.%m.%Y"),
        sale.unit.listed_code,
        owner.family,
        owner.given,
        owner.street,
        owner.postcode,
        owner.town,
        countries[owner.country],
        owner.email,
        owner.phone,
    )


SHAPES: Mapping[str, _Shape] = {
    WEB: _Shape(
        headings=(
            "Sale number",
            "Date of sale",
            "First name",
            "Last name",
            "Company",
            "E-mail",
            "Mobile",
            "Street",
            "Postcode",
            "Town",
            "Country",
            "Language",
            "Frame code",
        ),
        row=_web,
        number=lambda count: f"W-{50_000 + 7 * count}",
    ),
    TILL: _Shape(
        headings=("Receipt no", "Date", "Code", "Customer name", "Tel", "E-mail", "Address", "Country"),
        row=_till,
        number=lambda count: f"T25/{1000 + 3 * count}",
    ),
    PARTNER: _Shape(
        headings=(
            "Auftragsnummer",
            "Verkaufsdatum",
            "Rahmennummer",
            "Nachname",
            "Vorname",
            "Straße",
            "PLZ",
            "Ort",
            "Land",
            "E-Mail",
            "Telefon",
        ),
        row=_partner,
        number=lambda count: f"PA {7000 + 11 * count}",
        head=_BOM,
    ),
}
