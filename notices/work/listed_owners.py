"""An owner as a row of a list has them, new or with what the row says anew; and the ways to them that it gives."""

from dataclasses import replace

from audiences.owners import ListedRow
from audiences.whereabouts import language_of, several_languages, time_zone
from notices.cases.records import ContactRow, OwnerRow
from notices.work.known import points

CHOSEN = "chosen"
"""The basis of a language that the owner chose: no list takes it back."""


def owner_row(row: ListedRow, owner_id: str, before: OwnerRow | None, falls_back: str) -> OwnerRow:
    """Return the owner of a row; a language that the owner chose stays, and what the row does not say stays too.

    A new owner without a language gets their country's, else *falls_back* (BCP 47).
    """
    if before is None:
        language, basis = _language(row, falls_back)
        return OwnerRow(
            owner_id=owner_id,
            kind=row.kind,
            name=row.name,
            language=language,
            basis=basis,
            country=row.country,
            time_zone=time_zone(row.country) if row.country else None,
        )
    after = replace(
        before, name=row.name or before.name, kind=row.kind, country=row.country or before.country
    )
    if row.country and row.country != before.country:
        after = replace(after, time_zone=time_zone(row.country))
    if row.language and before.basis != CHOSEN:
        after = replace(after, language=row.language, basis="column")
    return after


def _language(row: ListedRow, falls_back: str) -> tuple[str, str]:
    """Return the language of an owner of whom nothing else is known, and how surely it is that."""
    if row.language:
        return row.language, "column"
    by_country = language_of(row.country) if row.country else None
    if row.country is None or by_country is None:
        return falls_back, "default"
    return by_country, "country-of-several" if several_languages(row.country) else "country"


def contact_rows(row: ListedRow, owner_id: str) -> list[ContactRow]:
    """Return the ways to an owner that a row gives, those that cannot be used with their fault."""
    return [
        ContactRow(
            owner_id=owner_id,
            channel=point.channel,
            value_key=point.value_key,
            value=point.value,
            fault=point.fault,
        )
        for point in points(row)
        if point.value_key
    ]
