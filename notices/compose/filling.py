"""One owner's mail, word for word: a signed variant filled with the values of a posting."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from markupsafe import Markup, escape

from notices.compose.phrases import NO_BREAK, clean, typed_address, web_address
from notices.compose.pieces import html_pieces, text_of
from notices.compose.wrapping import wrap
from notices.wording import placeholders
from notices.wording.formats import isolate
from notices.wording.languages import direction
from notices.wording.placeholders import Placeholder

AUTOMATIC = frozenset(
    {"remind", "remind-stop"}
)  # kinds that the calendar sends, not a person (RFC 3834, section 5)

_WORDS = ("hours", "day", "next_word", "revision", "signs")  # values that are words of the notice's language


@dataclass(frozen=True, kw_only=True, slots=True)
class Inline:
    """A picture of the message by its content id; its bytes are found by *digest*."""

    cid: str
    digest: str
    media: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Filled:
    """A mail ready to be put into bytes; *rich* is its HTML, text of the variant and values by turns."""

    subject: str
    preheader: str
    rich: tuple[str, ...]
    text: str
    to_name: str
    from_name: str
    from_address: str
    reply_to: str
    language: str
    automatic: bool
    pictures: tuple[Inline, ...]

    @property
    def html(self) -> str:
        """Return the HTML whole."""
        return "".join(self.rich)


@lru_cache(maxsize=256)
def _read(content: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(content)
    return found


@lru_cache(maxsize=256)
def _pictures(content: str) -> tuple[Inline, ...]:
    return tuple(Inline(**picture) for picture in _read(content)["pictures"])


def fill(content: str, fill: str) -> Filled:
    """Return the mail that *content* of a variant and *fill* of a posting make; raise where a value is lacking."""
    variant = _read(content)
    values: dict[str, Any] = json.loads(fill)
    rich, plain = own_values(variant, values)
    forms = variant["units"][_form(values["units"])]
    units = html_pieces(forms["html"], rich, plain)
    text = text_of(variant["text"], {**plain, "units": text_of(forms["text"], plain)})
    return Filled(
        subject=_one_line(variant["subject"], plain),
        preheader=_one_line(variant["preheader"], plain),
        rich=tuple(html_pieces(variant["html"], rich, plain, units)),
        text=wrap(text),
        to_name=clean(values["name"]),
        from_name=variant["from"]["name"],
        from_address=variant["from"]["address"],
        reply_to=variant["reply_to"],
        language=variant["language"],
        automatic=variant["kind"] in AUTOMATIC,
        pictures=_pictures(content),
    )


def own_values(
    variant: Mapping[str, Any], values: Mapping[str, Any]
) -> tuple[dict[str, Any], dict[str, Any]]:
    """Return an owner's values and units as they stand in the *variant*'s HTML, and as in its plain text."""
    rtl = direction(variant["language"]) == "rtl"
    no_code = variant["units"]["no_code"]
    rich_rows = [_rich_row(row, no_code) for row in values["units"]]
    plain_rows = [_plain_row(row, no_code, rtl=rtl) for row in values["units"]]
    return {**_rich(values), **_units(rich_rows)}, {**_plain(values, rtl=rtl), **_units(plain_rows)}


def _form(rows: Sequence[Mapping[str, str | None]]) -> str:
    if len(rows) > 1:
        return "several"
    return "one" if rows and rows[0]["code"] else "none"


def _units(rows: Sequence[Mapping[str, str]]) -> dict[str, object]:
    return {"rows": rows, "code": rows[0]["code"] if rows else ""}


def _one_line(source: str, plain: Mapping[str, str]) -> str:
    return " ".join(text_of(source, plain).split("\n"))


def _isolated(text: str, *, rtl: bool) -> str:
    unbroken = clean(text).replace(" ", NO_BREAK)
    return isolate(unbroken) if rtl else unbroken


def _plain_row(row: Mapping[str, str | None], no_code: str, *, rtl: bool) -> dict[str, str]:
    code, reference = row["code"], row["reference"] or ""
    return {
        "code": _isolated(code, rtl=rtl) if code else no_code,
        "reference": _isolated(reference, rtl=rtl),
    }


_CODE_STYLE = "font-family:Consolas, Menlo, monospace;white-space:nowrap"


def _rich_row(row: Mapping[str, str | None], no_code: str) -> dict[str, Markup]:
    code = row["code"]
    if not code:
        return {"code": escape(no_code), "reference": _bdi(row["reference"] or "")}
    shown = f'<bdi dir="ltr" style="{_CODE_STYLE}">{escape(clean(code))}</bdi>'
    return {"code": Markup(shown), "reference": _bdi(row["reference"] or "")}  # noqa: S704 - escaped above


def _bdi(text: str, href: str = "") -> Markup:
    inner = f'<bdi dir="ltr">{escape(clean(text).replace(" ", NO_BREAK))}</bdi>'
    return Markup(f'<a href="{escape(href)}">{inner}</a>' if href else inner)  # noqa: S704 - escaped above


def _plain(values: Mapping[str, Any], *, rtl: bool) -> dict[str, str]:
    """Return each value for plain text, subject, title and attributes."""
    phone, email = values["phone"], values["email"]
    isolates = {
        "phone": phone["shown"] if phone else email,
        "email": email,
        "link": values["link"],
        "bulletin": typed_address(values["bulletin"]) if values["bulletin"] else None,
        "answers": typed_address(values["answers"]) if values["answers"] else None,
        "reference": values["reference"],
    }
    found = {name: _isolated(value, rtl=rtl) for name, value in isolates.items() if value}
    found |= {name: clean(values[name]) for name in _WORDS if values[name]}
    if values["button"]:
        found["button"] = values["button"]
    found.setdefault("signs", "")
    return {**found, "call": " ".join(placeholders.fill(sentence, found) for sentence in values["call"])}


def _rich(values: Mapping[str, Any]) -> dict[str, Markup]:
    """Return each value for HTML: what can be followed is a link, what must not turn round is isolated."""
    phone, email = values["phone"], values["email"]
    mail = _bdi(email, f"mailto:{email}") if email else None
    pages = {"bulletin": values["bulletin"], "answers": values["answers"]}
    found = {
        "phone": _bdi(phone["shown"], phone["link"]) if phone else mail,
        "email": mail,
        "link": _bdi(values["link"], web_address(values["link"])) if values["link"] else None,
        "reference": _bdi(values["reference"]),
        **{
            name: _bdi(typed_address(page), web_address(page)) if page else None
            for name, page in pages.items()
        },
        **{name: escape(clean(values[name])) if values[name] else None for name in (*_WORDS, "button")},
    }
    given = {name: value for name, value in found.items() if value is not None}
    given.setdefault("signs", Markup(""))
    return {**given, "call": Markup(" ").join(_sentence(sentence, given) for sentence in values["call"])}


def _sentence(text: str, values: Mapping[str, Markup]) -> Markup:
    pieces = placeholders.split(text)
    return Markup("").join(
        values[piece.name] if isinstance(piece, Placeholder) else escape(piece) for piece in pieces
    )
