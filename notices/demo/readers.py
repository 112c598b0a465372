"""Owners at the pages: they read their mail, open the link, and answer form by form like people."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from audiences import addresses
from audiences.segments import Segment
from notices.demo.browser import Browser, Exchange
from notices.demo.clock import Clock
from notices.demo.forms import Form, Page
from notices.demo.mail_server import MailServer, Received
from notices.demo.names import SCANNING_DOMAIN
from notices.demo.owners import Owner
from notices.demo.people import Habit, Person
from notices.demo.questions import Answering, press_stop, signs_of
from notices.demo.units import Stamped

_PERSONAL = re.compile(r"https?://[^\s?#]+/[0-9A-Z]{10}")
_A_PAGE, _A_PAGE_BY_MACHINE = 35.0, 0.2  # seconds
_SAYS_NEVER_RIDDEN, _SAYS_DONE = 3, 8  # which of the strangers


@dataclass(kw_only=True, slots=True)
class Readers:
    """Everybody at a browser; *given* holds the codes that the firm has learned from its owners by now."""

    server: MailServer
    port: int
    clock: Clock
    trail: list[Exchange] = field(default_factory=list)
    given: set[str] = field(default_factory=set)
    scanned: int = 0

    def browser(self, who: str, *, seconds: float = _A_PAGE) -> Browser:
        """Return a browser for somebody who needs so many seconds for a page."""
        return Browser(who, port=self.port, clock=self.clock, trail=self.trail, seconds=seconds)

    def link(self, owner: Owner) -> str:
        """Return the personal address from the newest mail that the owner got; LookupError where none came."""
        for one in self.server.to(addresses.email(owner.email).value):
            for link in one.links:
                if _PERSONAL.fullmatch(link):
                    return link
        raise LookupError("no mail with a personal link has come")

    def answer(self, person: Person) -> Page:
        """Answer for each unit in turn, and return the last page."""
        with self.browser(person.owner.name) as browser:
            page = browser.open(self.link(person.owner))
            for place, unit in enumerate(person.owner.units):
                if place:
                    page = self._another(browser, page, person.owner)
                at = self._at(browser, person, unit, person.uses[place])
                page = at.walk(at.stop(page))
        return page

    def change_use(self, person: Person, use: Segment) -> Page:
        """Come back, go to the summary, and say otherwise how it was used."""
        with self.browser(person.owner.name) as browser:
            at = self._at(browser, person, person.owner.units[0], use)
            page = at.walk(at.stop(browser.open(self.link(person.owner))))
            form = next((one for one in page.forms if _sends(one, "step", "use")), None)
            if form is None:
                return page
            return at.walk(browser.choose(page, form, "step", "use"))

    def press(self, person: Person) -> Page:
        """Press *I have stopped* and leave."""
        with self.browser(person.owner.name) as browser:
            return press_stop(browser, browser.open(self.link(person.owner)))

    def use_still(self, person: Person) -> Page:
        """Say that it is still in use, with a number to call."""
        with self.browser(person.owner.name) as browser:
            page = browser.open(self.link(person.owner))
            form = page.form(has="do")
            page = browser.choose(page, form, "do", "in_use") if form else page
            asked = page.form(do="in_use", sent="yes")
            return browser.send(page, asked, {"phone": person.owner.phone}) if asked else page

    def fill_in(self, owner: Owner, ending: str, has: str, typed: Mapping[str, str]) -> Page:
        """Go from the first page to another and send its form."""
        with self.browser(owner.name) as browser:
            page = browser.follow(browser.open(self.link(owner)), ending)
            form = page.form(has=has)
            return browser.send(page, form, typed) if form else page

    def confirm(self, person: Person, unit: Stamped, *, by: str, sure: bool) -> Page:
        """Say that the fix is done; one who is not sure of the wrench says so."""
        signs = signs_of(person.owner, unit, self.given)
        with self.browser(person.owner.name) as browser:
            page = browser.follow(browser.open(self.link(person.owner)), "/fixed")
            return _say_done(browser, page, {"by": by, "signs": signs}, sure=sure)

    def claim(self, buyer: Person, address: str, unit: Stamped) -> Page:
        """Come from the public page without a link, type the whole code, say who one is, and answer."""
        who = {"name": buyer.owner.name, "email": buyer.owner.email, "country": buyer.owner.country}
        with self.browser(buyer.owner.name) as browser:
            page = browser.open(address)
            form = page.form(has="code")
            page = browser.send(page, form, {"code": unit.stamped}) if form else page
            asked = page.form(do="claim", has="name")
            page = browser.send(page, asked, who) if asked else page
            return self._at(browser, buyer, unit, buyer.uses[0]).walk(page)

    def strangers(self, link: str, count: int) -> None:
        """Let people of a school group press the button; one says never ridden, one says done."""
        for place in range(count):
            with self.browser(f"stranger {place + 1}") as browser:
                page = press_stop(browser, browser.open(link))
                form = page.form(do="signs")
                if place == _SAYS_NEVER_RIDDEN and form:
                    browser.send(page, form, {"signs": "never ridden"})
                elif place == _SAYS_DONE:
                    page = browser.follow(page, "/fixed")
                    _say_done(browser, page, {"by": "mechanic", "signs": "done"}, sure=True)

    def scan(self) -> int:
        """Let one provider's scanner fetch every link of its new mail and press the first button; count the mails."""
        new = [
            one
            for one in self.server.received[self.scanned :]
            if one.recipient.endswith(f"@{SCANNING_DOMAIN}")
        ]
        self.scanned = len(self.server.received)
        for one in new:
            self._scan(one)
        return len(new)

    def _scan(self, one: Received) -> None:
        with self.browser("scanner", seconds=_A_PAGE_BY_MACHINE) as browser:
            pages = [browser.open(link) for link in one.links]
            buttons = [(page, form) for page in pages for form in page.forms if form.buttons]
            if buttons:
                browser.send(*buttons[0])

    def _at(self, browser: Browser, person: Person, unit: Stamped, use: Segment) -> Answering:
        return Answering(browser=browser, person=person, unit=unit, use=use, given=self.given)

    def _another(self, browser: Browser, page: Page, owner: Owner) -> Page:
        """Go on to the next unit: as the page offers it, else by the link again."""
        offered = next((form for form in page.forms if _offers_another(form)), None)
        return browser.send(page, offered) if offered else browser.open(self.link(owner))


def buyer_of(seller: Owner) -> Person:
    """Return who has a unit now that its owner has sold on: somebody whom no list knows."""
    owner = replace(
        seller,
        given="Ottoline",
        family="Farrowgate",
        email="ottoline.farrowgate@tidewater.example",
        phone="",
        street="Weir View 7",
    )
    return Person(
        owner=owner,
        habit=Habit.ANSWERS,
        uses=(Segment.RIDDEN_NO_SYMPTOMS,),
        remedy="repair",
        fitter="mechanic",
        slips=False,
        finds=True,
        returns=False,
    )


def _sends(form: Form, name: str, value: str) -> bool:
    return any((button.name, button.value) == (name, value) for button in form.buttons)


def _offers_another(form: Form) -> bool:
    return form.fields.get("step") == "code" and any(not button.name for button in form.buttons)


def _say_done(browser: Browser, page: Page, typed: Mapping[str, str], *, sure: bool) -> Page:
    """Fill in the page that asks whether the fix is done; who is not sure says so of the first question."""
    form = page.form(has="by")
    if form is None:
        return page
    asked = [name for name in form.choices if name.startswith("q-")]
    answers = {name: "yes" if sure or place else "not_sure" for place, name in enumerate(asked)}
    old_part = {"old_part": "taken"} if form.has("old_part") else {}
    return browser.send(page, form, {**typed, **answers, **old_part})
