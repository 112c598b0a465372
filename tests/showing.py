"""Everything people get to see, as a browser shows it: mails, answer pages, the bulletin, the proofs."""

import base64
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from playwright.sync_api import Page

from audiences.verdicts import Verdict
from notices.cases.records import UnitRow
from notices.compose.mail import fill
from notices.compose.pictures import by_digest
from notices.demo.site import Site
from notices.respond.app import application
from notices.work import proving, publishing
from notices.work.revisions import Signed
from notices.work.units import AWAITED
from tests import composing
from tests.folders import a_desk
from tests.owners_pages import BASE, KEY
from tests.owners_world import Owners, owners_world

PICTURES = {
    f"pictures/{file.name}": file.read_bytes() for file in sorted((composing.FOLDER / "pictures").iterdir())
}
AFFECTED, CLEARED, NEAR = "QM-2534-B0172", "QM-2540-D0144", "QM-2534-D0172"
NOBODYS = "0000000000"
_COUNTRY = {
    "en": "GB",
    "en-US": "US",
    "de": "DE",
    "fr": "FR",
    "es": "ES",
    "it": "IT",
    "nl": "NL",
    "pl": "PL",
    "ar": "DE",
}
_TWO = (composing.unit(), composing.unit("QM-2541-B0999", "8M3RT6WQ"))
_LIST = """sale no,name,email,country,language,code,sold on,sold in
1,Anna O'Neil,anna@mail.example,GB,en,QM-2534-B0172,2025-09-01,GB
2,Bernd Müller,bernd@post.example,DE,de,QM-2534-C0144,2025-10-10,DE
3,سمير,samir@post.example,DE,ar,,2025-10-10,DE
"""


@dataclass(frozen=True, kw_only=True, slots=True)
class Mail:
    """What makes one mail differ from another."""

    revision: int = 1
    kind: str = "first"
    verdict: Verdict = Verdict.AFFECTED
    units: tuple[UnitRow, ...] = (composing.unit(),)


MAILS = {
    "first": Mail(),
    "stop": Mail(revision=0, kind="stop"),
    "reminder": Mail(kind="remind"),
    "cleared": Mail(verdict=Verdict.CLEARED, units=(composing.unit(CLEARED),)),
    "no-code": Mail(verdict=Verdict.MISSING, units=(composing.unit(None),)),
    "several-units": Mail(units=_TWO),
}


def mail(name: str, language: str) -> str:
    """Return the HTML of a mail as its owner sees it, pictures inside."""
    wanted = MAILS[name]
    variant = composing.key(wanted.kind, wanted.verdict, language=language)
    of = composing.demo(wanted.revision, language)
    content = composing.composed(of, variant, dict(PICTURES)).content
    who = composing.owner(country=_COUNTRY[language], language=language)
    filled = fill(content, composing.values(of, language, who, wanted.units))
    images, html = by_digest(PICTURES), filled.html
    for each in filled.pictures:
        data = base64.b64encode(images[each.digest]).decode()
        html = html.replace(f"cid:{each.cid}", f"data:{each.media};base64,{data}")
    return html


def show(page: Page, html: str) -> None:
    """Show a text of its own, free from the policy of the page before."""
    page.goto("about:blank")
    page.set_content(html)


@dataclass
class Open:
    """The owners' pages on loopback, and the register behind them."""

    owners: Owners
    port: int

    @property
    def root(self) -> str:
        """Return the address below which the pages live."""
        return f"http://127.0.0.1:{self.port}{BASE}"


@contextmanager
def open_pages(place: Path) -> Iterator[Open]:
    """Yield the owners' pages at the demo's revision 1, served to a real browser."""
    with owners_world(place) as owners:

        def bulletin(held: Signed, tag: str) -> str:
            return publishing.served_page(owners.world, held, tag)

        with Site(application(owners.world, key=KEY, bulletin=bulletin)) as site:
            yield Open(owners=owners, port=site.port)


class _Visitor:
    """One owner in a browser."""

    def __init__(self, page: Page, shop: Open, language: str) -> None:
        self.page, self.shop, self.language = page, shop, language

    def owner(self, *codes: str | None) -> str:
        link = self.shop.owners.owner("Samir Haddad", language=self.language, country=_COUNTRY[self.language])
        for code in codes:
            self.shop.owners.unit(link, code)
        return link

    def open(self, path: str) -> None:
        answer = self.page.goto(f"{self.shop.root}/{path}?lang={self.language}")
        assert answer is not None
        assert answer.ok == (path != NOBODYS), f"{path}: {answer.status}"

    def press(self, selector: str) -> None:
        with self.page.expect_navigation():
            self.page.locator(selector).first.click()

    def send(self, selector: str = "main form button:not(.plain)", **typed: str) -> None:
        for name, text in typed.items():
            self.page.locator(f"main [name='{name}']").first.fill(text)
        self.press(selector)

    def signs(self, link: str) -> None:
        self.open(link)
        self.press("[value=stop]")
        self.send(signs="0172")


def answer_pages(page: Page, shop: Open, language: str) -> Iterator[str]:
    """Walk through every answer page as owners do; yield the name of each while *page* shows it."""
    visitor = _Visitor(page, shop, language)
    yield from _the_way(visitor)
    yield from _fixing(visitor)
    yield from _ways_out(visitor)
    yield from _without_a_link(visitor)
    yield from _other_units(visitor)
    yield from _of_a_shop(visitor)


def _the_way(visitor: _Visitor) -> Iterator[str]:
    link = visitor.owner(AFFECTED)
    visitor.open(link)
    yield "first"
    visitor.press("[value=stop]")
    yield "code"
    visitor.send(signs="9999")
    yield "code-wrong"
    visitor.send(signs="0172")
    yield "use"
    visitor.press("[value=unridden]")
    yield "place"
    visitor.send(place="", phone="")
    yield "place-lacking"
    visitor.send(place="Quay Street 9\nPort Aldmere", phone="+49 30 23125018")
    yield "remedy"
    visitor.press("[name=remedy]")
    yield "summary"


def _fixing(visitor: _Visitor) -> Iterator[str]:
    link = visitor.owner(AFFECTED)
    visitor.signs(link)
    visitor.open(f"{link}/fixed")
    yield "fixed"
    visitor.send(signs="0172")
    yield "fixed-lacking"
    for choice in ("[name=by][value=mechanic]", "[name=q-torque][value=yes]", "[name=q-play][value=yes]"):
        visitor.page.locator(choice).check()
    visitor.send(signs="0172")
    yield "fixed-thanks"
    visitor.open(link)
    yield "fixed-already"
    visitor.open(f"{link}/fixed")
    yield "take-back"


def _ways_out(visitor: _Visitor) -> Iterator[str]:
    link = visitor.owner(AFFECTED)
    for way in ("hurt", "call", "print", "helper", "nocode", "another", "gone", "photo"):
        visitor.open(f"{link}/{way}")
        yield way
    visitor.open(f"{link}/hurt")
    visitor.send(phone="+49 30 23125018", words="")
    yield "hurt-thanks"
    visitor.open(link)
    visitor.press("[value=in_use]")
    yield "in-use"
    visitor.send(phone="+49 30 23125018")
    yield "in-use-thanks"
    visitor.open(f"{link}/gone")
    visitor.send(holder="-")
    yield "gone-thanks"


def _without_a_link(visitor: _Visitor) -> Iterator[str]:
    visitor.open(NOBODYS)
    yield "refused"
    visitor.open("start")
    yield "start"
    for name, code in (
        ("affected", "QM-2534-B0999"),
        ("near", NEAR),
        ("cleared", "QM-2548-A0999"),
        ("unreadable", "AB-1"),
    ):
        visitor.open("start")
        visitor.send(code=code)
        yield f"start-{name}"


def _other_units(visitor: _Visitor) -> Iterator[str]:
    visitor.open(visitor.owner(AFFECTED, "QM-2533-B0999"))
    visitor.press("[value=stop]")
    yield "code-of-two"
    visitor.open(visitor.owner(None))
    visitor.press("[value=stop]")
    yield "family-name"
    visitor.send(signs="Haddad")
    yield "unit-code"
    visitor.open(visitor.owner(CLEARED))
    yield "cleared-code"
    visitor.send(signs="0144")
    yield "cleared"
    visitor.open(visitor.owner())
    yield "gone-already"


def _of_a_shop(visitor: _Visitor) -> Iterator[str]:
    owners, country = visitor.shop.owners, _COUNTRY[visitor.language]
    link = owners.owner("Harbour Bikes", language=visitor.language, country=country, kind="shop")
    visitor.open(link)
    yield "shop"
    visitor.send(shelf="3")
    yield "shop-lacking"
    for choice in ("[name=stopped][value=yes]", "[name=names][value=handed_over]"):
        visitor.page.locator(choice).check()
    visitor.send(shelf="3", sold="20", by="Cy Vale")
    yield "shop-thanks"
    visitor.open(owners.owner("", language=visitor.language, country=country, kind=AWAITED))
    yield "forwarded"


def proofs(place: Path) -> Path:
    """Write the demo's proofs at revision 1 and return their folder."""
    with a_desk(place, revision=1) as desk:
        desk.take(_LIST)
        desk.now = datetime(2026, 3, 3, 9, 0, tzinfo=UTC)
        proving.write_proofs(desk.world)
    return place / "out" / "proofs"
