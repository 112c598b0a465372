"""One person before the questions of the pages, about one unit: what they type, choose and misread."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from audiences.segments import Segment
from notices.demo.browser import Browser
from notices.demo.forms import Form, Page
from notices.demo.owners import Owner
from notices.demo.people import Habit, Person
from notices.demo.units import Stamped

_QUESTIONS = ("signs", "unit_code", "use", "place", "remedy")
# What is asked again on the spot is answered again; whatever comes back more often needs a person.
_TRIES: Mapping[str, int] = {"signs": 2, "unit_code": 2}
_STEPS_AT_MOST = 40
_MISREAD = str.maketrans("0168", "O7GB")
_HIDDEN = 4
_SHORTEST_NAME = 2


@dataclass(frozen=True, kw_only=True, slots=True)
class Answering:
    """A person at a browser who answers for *unit*, used as *use* says; *given* are codes told to the firm by now."""

    browser: Browser
    person: Person
    unit: Stamped
    use: Segment
    given: set[str]

    def stop(self, page: Page) -> Page:
        """Press *I have stopped* where the page offers it."""
        return press_stop(self.browser, page)

    def walk(self, page: Page) -> Page:
        """Answer each question as far as the pages ask, and return the last page."""
        asked: dict[str, int] = {}
        for _ in range(_STEPS_AT_MOST):
            step = next((name for name in _QUESTIONS if page.form(do=name)), "")
            form = page.form(do=step) if step else None
            asked[step] = asked.get(step, 0) + 1
            if form is None or asked[step] > _TRIES.get(step, 1):
                return page
            page = self._answer(page, form, step, times=asked[step])
        return page

    def _answer(self, page: Page, form: Form, step: str, *, times: int) -> Page:
        if step == "signs":
            signs = signs_of(self.person.owner, self.unit, self.given)
            misread = self.person.slips and times == 1
            return self.browser.send(page, form, {"signs": _misread(signs) if misread else signs})
        if step == "unit_code":
            return self._unit_code(page, form)
        if step == "use":
            return self.browser.choose(page, form, "use", self.use.value)
        if step == "place":
            return self.browser.send(page, form, self._reach())
        return self.browser.choose(page, form, "remedy", _wanted(form, self.person))

    def _reach(self) -> dict[str, str]:
        owner = self.person.owner
        way = {"phone": owner.phone} if owner.phone else {"email": owner.email}
        return {"place": owner.address, **way}

    def _unit_code(self, page: Page, form: Form) -> Page:
        """Type the whole code of a unit that the lists hold without one; who reads B as D does so twice."""
        if self.person.habit is Habit.READS_B_AS_D:
            return self.browser.send(page, form, {"code": misread_line(self.unit)})
        if not self.person.finds:
            return self.browser.choose(page, form, "skip", "yes")
        self.given.add(self.unit.stamped)
        return self.browser.send(page, form, {"code": self.unit.stamped})


def press_stop(browser: Browser, page: Page) -> Page:
    """Press *I have stopped* where the page offers it."""
    form = page.form(has="do")
    offers = [(button.name, button.value) for button in form.buttons] if form else []
    return browser.choose(page, form, "do", "stop") if form and ("do", "stop") in offers else page


def misread_line(unit: Stamped) -> str:
    """Return the code of a unit of line B as somebody reads it who takes the B for a D."""
    return unit.stamped.replace("-B", "-D")


def signs_of(owner: Owner, unit: Stamped, given: Collection[str]) -> str:
    """Return what shows the firm that the owner reads this: the last signs, or the family name without a code."""
    if unit.coded or unit.stamped in given:
        return unit.stamped[-_HIDDEN:]
    return owner.family if len(owner.family) >= _SHORTEST_NAME else owner.name


def _misread(signs: str) -> str:
    """Return signs as somebody misreads them: one for another that looks like it, else the last one left out."""
    other = signs.translate(_MISREAD)
    return other if other != signs else signs[:-1]


def _wanted(form: Form, person: Person) -> str:
    """Return the offered remedy that this person wants, fitted by whom they want."""
    offered = [button.value for button in form.buttons if button.name == "remedy"]
    liked = [value for value in offered if value == f"{person.remedy}/{person.fitter}"]
    plain = [value for value in offered if value.partition("/")[0] == person.remedy]
    return (liked or plain or offered)[0]
