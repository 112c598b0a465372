"""A reader of the owners' pages: opens, fills and sends forms as a browser without scripts does."""

import re
from dataclasses import dataclass, field
from html.parser import HTMLParser
from urllib.parse import urljoin, urlsplit

from httpx2 import Response
from starlette.testclient import TestClient

from notices.respond.app import application
from notices.respond.limits import Limits
from tests.owners_world import Owners

KEY = b"0123456789abcdef0123456789abcdef"
BASE = "/drayling"


@dataclass
class SeenForm:
    """One form of a page: where it goes, its fields as they stand, and its buttons."""

    action: str
    fields: dict[str, str] = field(default_factory=dict)
    buttons: list[tuple[str, str]] = field(default_factory=list)


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.forms: list[SeenForm] = []
        self.inputs: list[dict[str, str]] = []
        self.links: list[str] = []
        self.text = ""
        self._open: SeenForm | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = {name: value or "" for name, value in attrs}
        if tag == "form":
            self._open = SeenForm(action=found.get("action", ""))
            self.forms.append(self._open)
        if tag == "a" and "href" in found:
            self.links.append(found["href"])
        if self._open is None:
            return
        if tag in {"input", "textarea", "select"}:
            self.inputs.append({"tag": tag, **found})
            if found.get("type") != "radio":
                self._open.fields[found.get("name", "")] = found.get("value", "")
        if tag == "button":
            self._open.buttons.append((found.get("name", ""), found.get("value", "")))

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self._open = None

    def handle_data(self, data: str) -> None:
        self.text += data + " "


class Reader:
    """One person with a browser and no link but those it was given."""

    def __init__(
        self,
        owners: Owners,
        *,
        base: str = BASE,
        limits: Limits | None = None,
        at: str = "203.0.113.7",
        behind_proxy: bool = False,
    ) -> None:
        pages = application(owners.world, key=KEY, limits=limits, behind_proxy=behind_proxy)
        self.client = TestClient(pages, base_url="https://aldmere.example", client=(at, 50_000))
        self.base = base
        self.address = ""
        self.status = 0
        self.html = ""
        self.headers: dict[str, str] = {}

    def open(self, path: str) -> "Reader":
        """Open a page below the base address."""
        self.address = f"{self.base}/{path}"
        return self._take("GET", {})

    def send(self, do: str = "", *, press: str = "", **typed: str) -> "Reader":
        """Fill in the form that does *do* (or the only one without a verb) and press a button."""
        form = self._form(do, press)
        fields = {**form.fields, **{name.replace("__", "-"): text for name, text in typed.items()}}
        name, _, value = press.partition("=")
        if name:
            fields[name] = value
        self.address = urljoin(self.address, form.action) if form.action else self.address
        return self._take("POST", fields)

    def upload(self, *files: bytes, name: str = "photo.jpg", **typed: str) -> "Reader":
        """Fill in the page's form that takes photographs, and send it as a browser does."""
        form = next(each for each in self.page.forms if "photo" in each.fields)
        fields = {key: value for key, value in form.fields.items() if key != "photo"}
        fields |= {key.replace("__", "-"): text for key, text in typed.items()}
        self.address = urljoin(self.address, form.action)
        chosen = [("photo", (name, data, "image/jpeg")) for data in files] or [("photo", ("", b"", ""))]
        return self._keep(self.client.post(self.address, data=fields, files=chosen))

    def post(self, fields: dict[str, str], headers: dict[str, str] | None = None) -> "Reader":
        """Send a form that no page of ours holds."""
        return self._take("POST", fields, headers or {})

    def _form(self, do: str, press: str) -> SeenForm:
        name, _, value = press.partition("=")
        for form in self.page.forms:
            verbs = {form.fields.get("do", ""), *(v for n, v in form.buttons if n == "do")}
            if do and do not in verbs:
                continue
            if press and (name, value) not in form.buttons:
                continue
            if not do and form.fields.get("do") == "show":
                continue
            return form
        raise AssertionError(f"no form does {do!r} with {press!r}:\n{self.html}")

    def _take(self, method: str, fields: dict[str, str], headers: dict[str, str] | None = None) -> "Reader":
        content = {"content-type": "application/x-www-form-urlencoded"} if method == "POST" else {}
        return self._keep(
            self.client.request(
                method,
                self.address,
                data=fields or None,
                headers={**content, **(headers or {})},
                follow_redirects=False,
            )
        )

    def _keep(self, answer: Response) -> "Reader":
        self.status, self.html, self.headers = answer.status_code, answer.text, dict(answer.headers)
        return self

    @property
    def page(self) -> _Reader:
        """Return the page as it was read."""
        reader = _Reader()
        reader.feed(self.html)
        return reader

    @property
    def calls(self) -> set[str]:
        """Return the numbers that the page offers to call, without what only parts them (RFC 3966, 5.1.1)."""
        return {link.replace("-", "") for link in self.page.links if link.startswith("tel:")}

    @property
    def text(self) -> str:
        """Return the words of the page."""
        return re.sub(r"\s+", " ", self.page.text)  # a no-break space too

    @property
    def reference(self) -> str:
        """Return the reference number on the page."""
        found = re.search(r'class="reference">[^<]*<bdi dir="ltr">([0-9A-Z]{8})<', self.html)
        assert found is not None, self.html
        return found[1]

    def path_of(self, link: str) -> str:
        """Return the path that a link on the page leads to."""
        return urlsplit(urljoin(f"https://aldmere.example{self.address}", link)).path
