"""A mail scanner opens every link of a mail, runs what scripts there are and presses: nobody has spoken by that."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from email.message import EmailMessage
from html import unescape

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from notices.cases.case import Case, Stopped
from notices.demo.site import Site
from notices.respond.app import application
from notices.work import publishing, serving
from notices.work.revisions import Signed
from tests.folders import Desk, a_desk

OURS = "https://aldmere.example"
# Three working days after Tuesday 3 March 2026, the first step of the demo's ladder.
REMINDED = datetime(2026, 3, 6, 9, 0, tzinfo=UTC)


@dataclass
class Scanner:
    """What a scanner did: the addresses it asked for, the pages it pressed on, what it was given to keep."""

    asked: list[str] = field(default_factory=list)
    scripts: list[str] = field(default_factory=list)
    pressed: list[str] = field(default_factory=list)
    kept: list[str] = field(default_factory=list)


@dataclass
class Scanned:
    """The register before and after."""

    desk: Desk
    address: str
    scanner: Scanner
    before: dict[str, object]
    cases: dict[str, Case]


@contextmanager
def _served(desk: Desk) -> Iterator[str]:
    def bulletin(held: Signed, tag: str) -> str:
        return publishing.served_page(desk.world, held, tag)

    pages = application(desk.world, key=serving.proof_key(desk.world), bulletin=bulletin)
    with Site(pages) as site:
        yield f"http://127.0.0.1:{site.port}"


@pytest.fixture(scope="module")
def scanned(chromium: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Scanned]:
    """Send the recall to four owners, and let a scanner loose on every mail, once for all tests."""
    with a_desk(tmp_path_factory.mktemp("scanned"), revision=1) as desk:
        desk.take()
        desk.sign()
        desk.post()
        desk.send()
        before, cases, scanner = _everything(desk), _cases(desk), Scanner()
        with _served(desk) as address:
            for thorough, mail in zip((True, False, False), desk.mails(), strict=True):
                context = chromium.new_context()
                _scan(context, _links(mail, address), scanner, thorough=thorough)
                context.close()
        yield Scanned(desk=desk, address=address, scanner=scanner, before=before, cases=cases)


def _links(mail: EmailMessage, address: str) -> list[str]:
    """Return every web address in either part of a mail, led to where the pages are served."""
    parts = [mail.get_body((kind,)) for kind in ("html", "plain")]
    text = unescape(" ".join(part.get_content() for part in parts if part is not None))
    found = dict.fromkeys(re.findall(r"https?://[^\s\"'<>]+", text))
    ours = [link.replace(OURS, address, 1) for link in found if link.startswith(f"{OURS}/drayling")]

    assert ours, "a mail without a link to answer by"
    return [*ours, f"{address}/drayling/bulletin"]


def _scan(context: BrowserContext, links: list[str], scanner: Scanner, *, thorough: bool) -> None:
    """Open every link of a mail and press; a thorough scanner does so on every page that those lead to."""
    page = context.new_page()
    page.on("request", lambda request: scanner.asked.append(request.url))
    for link in links:
        page.goto(link)
        inner = page.eval_on_selector_all("a[href]", "all => all.map(one => one.href)")
        _press(page, scanner)
        for each in dict.fromkeys(inner) if thorough else ():
            if each.startswith("http://127.0.0.1"):
                page.goto(each)
                _press(page, scanner)
    scanner.kept += [str(cookie) for cookie in context.cookies()]


def _press(page: Page, scanner: Scanner) -> None:
    """Press the first button of a page, and the first of what follows."""
    for _ in range(2):
        scanner.scripts += page.eval_on_selector_all(
            "script, [onclick], [onload], link[rel=preload]", "all => all.map(one => one.outerHTML)"
        )
        scanner.kept += page.evaluate("[...Object.keys(localStorage), ...Object.keys(sessionStorage)]")
        button = page.locator("main form button").first
        if not button.count():
            return
        scanner.pressed.append(page.url)
        button.click()
        page.wait_for_load_state()


def _everything(desk: Desk) -> dict[str, object]:
    """Return all that the register holds beside events and cases."""
    with desk.world.register.look() as tx:
        return {
            "owners": tx.people.owners(),
            "contacts": tx.people.contacts(),
            "units": tx.units.units(),
            "revisions": tx.papers.revisions(),
            "postings": list(tx.outbox.postings()),
        }


def _cases(desk: Desk) -> dict[str, Case]:
    with desk.world.register.look() as tx:
        return {row.case.unit_id: row.case for row in tx.cases.all()}


def test_every_mail_was_scanned_and_pressed_on(scanned: Scanned) -> None:
    first_pages = {url for url in scanned.scanner.pressed if re.fullmatch(r".*/drayling/[0-9A-Z]{10}", url)}

    assert len(scanned.desk.mails()) == 3
    assert len(first_pages) == 3
    assert len(scanned.scanner.pressed) > 12


def test_a_pressed_button_reads_pressed_and_never_stopped(scanned: Scanned) -> None:
    after = _cases(scanned.desk)
    written_to = [one for one in after.values() if scanned.cases[one.unit_id].live]

    assert len(written_to) == 3
    assert {one.stopped for one in written_to} == {Stopped.PRESSED}
    assert Stopped.STOPPED not in {one.stopped for one in after.values()}


def test_a_scanner_changes_nothing_else(scanned: Scanned) -> None:
    bare = {
        unit_id: replace(case, version=scanned.cases[unit_id].version, stopped=Stopped.NO_WORD)
        for unit_id, case in _cases(scanned.desk).items()
    }

    assert bare == scanned.cases
    assert _everything(scanned.desk) == scanned.before


def test_whoever_only_pressed_is_asked_again(scanned: Scanned) -> None:
    case = scanned.desk.case("QM-2534-B0172")
    with scanned.desk.world.register.look() as tx:
        due = tx.cases.get([case.unit_id])[case.unit_id].due
    scanned.desk.now = REMINDED
    scanned.desk.sign()
    scanned.desk.post()
    waiting = {address for address, states in scanned.desk.states().items() if "waiting" in states}

    assert due is not None
    assert (due.step, due.channel, due.on) == ("mail-again", "email", REMINDED.date())
    assert waiting == {"anna@mail.example", "bernd@post.example", "samir@post.example"}


def test_no_page_asks_anybody_else_keeps_anything_or_runs_a_script(scanned: Scanned) -> None:
    assert {url for url in scanned.scanner.asked if not url.startswith(scanned.address)} == set()
    assert scanned.scanner.scripts == []
    assert scanned.scanner.kept == []
