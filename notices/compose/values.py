"""What differs between the owners of one variant: their units, their link, whom they call; kept with the posting."""

from collections.abc import Mapping, Sequence
from typing import Literal
from urllib.parse import quote

from audiences.addresses import national, tel_link
from audiences.codes import mask
from notices.campaign.models import Campaign, Contact
from notices.cases.records import OwnerRow, UnitRow
from notices.compose.phrases import clean, typed_address, web_address
from notices.wording import placeholders
from notices.wording.catalogues import Catalogue, msgid
from notices.wording.formats import day_month, hours, long_date

Form = Literal["one", "none", "several"]
FORMS: tuple[Form, ...] = ("one", "none", "several")
_HIDDEN = 4  # last signs left out where the lead has not said how many
_DOT = "·"  # what a hidden sign is shown as
_SAMPLE_LINK = "0000000000"
_SAMPLE_REFERENCES = ("00000000", "11111111")
_SAMPLE_CODE = "SAMPLE-0000"


def values_for(
    campaign: Campaign,
    catalogue: Catalogue,
    *,
    owner: OwnerRow,
    units: Sequence[UnitRow],
    link: str | None,
) -> dict[str, object]:
    """Return the values of one owner's mail, fit for canonical JSON.

    *campaign* and *catalogue* are in the mail's language; *link* is the ten signs of the personal link. Codes are
    masked here, so that no posting ever holds a whole one.
    """
    hidden = campaign.code.hidden if campaign.code else _HIDDEN
    rows = [
        {"code": mask(clean(unit.code), hidden) if unit.code else None, "reference": unit.unit_id}
        for unit in units
    ]
    return {**_general(campaign, catalogue, owner.country, rows, link), "name": owner.name}


def sample_values(
    campaign: Campaign, catalogue: Catalogue, *, country: str | None, form: Form
) -> dict[str, object]:
    """Return invented values for a proof, in one of the three forms of the units."""
    hidden = campaign.code.hidden if campaign.code else _HIDDEN
    example = campaign.code.example if campaign.code else None
    code = mask(example.code if example else _SAMPLE_CODE, hidden)
    rows: Mapping[Form, list[dict[str, str | None]]] = {
        "one": [{"code": code, "reference": _SAMPLE_REFERENCES[0]}],
        "none": [{"code": None, "reference": _SAMPLE_REFERENCES[0]}],
        "several": [{"code": code, "reference": reference} for reference in _SAMPLE_REFERENCES],
    }
    return {**_general(campaign, catalogue, country, rows[form], _SAMPLE_LINK), "name": ""}


def _general(
    campaign: Campaign,
    catalogue: Catalogue,
    country: str | None,
    rows: Sequence[Mapping[str, str | None]],
    link: str | None,
) -> dict[str, object]:
    contact = campaign.contact_for(country)
    issuer, revision, tag = campaign.issuer, campaign.revision, catalogue.tag
    page = f"{web_address(issuer.answers).rstrip('/')}/{link}" if issuer.answers and link else None
    return {
        "units": list(rows),
        "reference": ", ".join(str(row["reference"]) for row in rows),
        "signs": _signs(catalogue, rows),
        "link": typed_address(page) if page else typed_address(issuer.answers or ""),
        "button": page or _reply_link(campaign, catalogue, rows),
        "call": list(call(campaign, catalogue, contact)),
        "phone": telephone(contact),
        "email": issuer.email,
        "hours": hours(campaign.hours, tag) if campaign.hours else None,
        "day": long_date(revision.day, tag) if revision.day else None,
        "next_word": day_month(campaign.next_word, tag) if campaign.next_word else None,
        "revision": str(revision.number),
        "bulletin": issuer.bulletin,
        "answers": issuer.answers,
    }


def _signs(catalogue: Catalogue, rows: Sequence[Mapping[str, str | None]]) -> str | None:
    """Return how many last signs are left out; where codes differ in that, the most of them."""
    count = max((row["code"].count(_DOT) for row in rows if row["code"]), default=0)
    if not count:
        return None
    return catalogue.ngettext(
        "The last character is not shown here. Read it on the product itself.",
        "The last %(count)s characters are not shown here. Read them on the product itself.",
        count,
    )


def telephone(contact: Contact | None) -> dict[str, str] | None:
    """Return a contact's number as it is dialled there, and its link (RFC 3966); None where it has none."""
    if contact is None or contact.phone is None:
        return None
    country = contact.countries[0] if contact.countries else None
    try:
        return {"shown": national(contact.phone, country), "link": tel_link(contact.phone)}
    except ValueError:  # not E.164; the campaign's own check says so, and no warning waits for it
        return {"shown": contact.phone, "link": ""}


_CALL_FREE = msgid("Call %(phone)s, free of charge.")
_CALL = msgid("Call %(phone)s.")
_SEND_NUMBER = msgid("Send us your telephone number: %(email)s.")
_WRITE = msgid("Write to us: %(email)s.")
_CALL_BACK = msgid("We will call you back free of charge.")


def call(campaign: Campaign, catalogue: Catalogue, contact: Contact | None) -> tuple[str, ...]:
    """Return how to reach us from the owner's country, as sentences in which number and address are still places."""
    found: list[str] = []
    number = contact is not None and contact.phone is not None
    back = contact is not None and contact.call_back
    if number:
        free = contact is not None and contact.free
        found.append(catalogue.gettext(_CALL_FREE if free else _CALL))
    elif campaign.issuer.email:
        found.append(catalogue.gettext(_SEND_NUMBER if back else _WRITE))
    if back and (number or campaign.issuer.email):
        found.append(catalogue.gettext(_CALL_BACK))
    if campaign.hours and found and (number or back):
        found.append(catalogue.gettext("Our hours: %(hours)s."))
    return tuple(found)


def _reply_link(
    campaign: Campaign, catalogue: Catalogue, rows: Sequence[Mapping[str, str | None]]
) -> str | None:
    """Return a mail that the owner need only send: the word, a line for the number, the reference (RFC 6068)."""
    if campaign.issuer.email is None:
        return None
    word = campaign.now.reply_word or campaign.product.name
    references = ", ".join(str(row["reference"]) for row in rows)
    body = [
        word,
        "",
        catalogue.gettext("My telephone number:"),
        "",
        placeholders.fill(catalogue.gettext("Your reference: %(reference)s"), {"reference": references}),
    ]
    to = quote(campaign.issuer.email, safe="@")
    return f"mailto:{to}?subject={_encoded(word)}&body={_encoded(chr(13) + chr(10), body)}"


def _encoded(text: str, lines: Sequence[str] | None = None) -> str:
    return quote(text if lines is None else text.join(map(clean, lines)), safe="")
