"""A browser of few arts: opens addresses, fills in forms and presses buttons, over real HTTP on loopback."""

import http.client
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType, TracebackType
from typing import Self
from urllib.parse import urlencode, urljoin, urlsplit

from notices.demo.clock import Clock
from notices.demo.forms import Form, Page

_ONWARD_AT_MOST = 3
_SECONDS_A_PAGE = 35.0  # what a person needs to read one


@dataclass(frozen=True, kw_only=True, slots=True)
class Exchange:
    """One request and its answer: who asked, how, where, what was sent, what came."""

    who: str
    method: str
    path: str
    sent: Mapping[str, str]
    status: int
    body: str


class Browser:
    """One person's browser; every exchange is kept in *trail*. The address is the campaign's, the way is loopback."""

    def __init__(
        self, who: str, *, port: int, clock: Clock, trail: list[Exchange], seconds: float = _SECONDS_A_PAGE
    ) -> None:
        self.who = who
        self._line = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
        self._clock = clock
        self._trail = trail
        self._seconds = seconds

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, _kind: type[BaseException] | None, _fault: BaseException | None, _trace: TracebackType | None
    ) -> None:
        self._line.close()

    def open(self, address: str) -> Page:
        """Follow a link."""
        return self._ask("GET", address, {})

    def follow(self, page: Page, ending: str) -> Page:
        """Follow the link of *page* whose path ends so; ValueError where it has none."""
        link = page.link(ending)
        if link is None:
            raise ValueError(f"no link of {page.address} ends with {ending}")
        return self.open(urljoin(page.address, link))

    def send(
        self, page: Page, form: Form, typed: Mapping[str, str] = MappingProxyType({}), *, press: int = 0
    ) -> Page:
        """Fill in and press one of the form's buttons; ValueError for a field or choice that it does not have."""
        button = form.buttons[press]
        for name, value in typed.items():
            choices = form.choices.get(name)
            if name not in form.fields and (choices is None or value not in choices):
                raise ValueError(f"the form at {page.address} has no {name} that could be {value}")
        pressed = {button.name: button.value} if button.name else {}
        return self._ask("POST", urljoin(page.address, form.action), {**form.fields, **typed, **pressed})

    def choose(self, page: Page, form: Form, name: str, value: str) -> Page:
        """Press the button that sends this value; ValueError where there is none."""
        for place, button in enumerate(form.buttons):
            if (button.name, button.value) == (name, value):
                return self.send(page, form, press=place)
        raise ValueError(f"the form at {page.address} has no button {name}={value}")

    def _ask(self, method: str, address: str, fields: Mapping[str, str]) -> Page:
        """Ask, and go on to where the answer sends a reader instead."""
        self._clock.advance(self._seconds)
        page, onward = self._once(method, address, fields)
        for _ in range(_ONWARD_AT_MOST):
            if not onward:
                break
            page, onward = self._once("GET", urljoin(page.address, onward), {})
        return page

    def _once(self, method: str, address: str, fields: Mapping[str, str]) -> tuple[Page, str]:
        parts = urlsplit(address)
        path = parts.path + (f"?{parts.query}" if parts.query else "")
        headers = {"Host": parts.netloc}
        body = None
        if method == "POST":
            headers |= {"Content-Type": "application/x-www-form-urlencoded", "Origin": "null"}
            body = urlencode(fields)
        self._line.request(method, path or "/", body=body, headers=headers)
        answer = self._line.getresponse()
        text = answer.read().decode("utf-8")
        self._trail.append(
            Exchange(
                who=self.who, method=method, path=path, sent=dict(fields), status=answer.status, body=text
            )
        )
        return Page(address, answer.status, text), answer.getheader("Location", "")
