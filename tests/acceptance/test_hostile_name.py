"""One hostile name travels the whole way: nothing of it is lost, nothing is executed, all of it is shown escaped."""

import csv
import io
import json
import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, field
from email import message_from_bytes, policy
from email.header import decode_header, make_header
from email.message import EmailMessage, Message
from html.parser import HTMLParser

import pytest
from starlette.testclient import TestClient

from audiences.cleaning import one_line
from notices import assembly
from notices.cli.entry import site
from notices.work.links import link_of
from notices.work.ports import World
from tests.commands import Desk, Said
from tests.hostile import HOSTILE_NAME

NAME = one_line(HOSTILE_NAME)
ADDRESS = "zoe@mail.example"
CODE = 'QM-<blink>{{7*7}}{%raw%}%(link)s&amp;"0172'
SHOWN_CODE = 'QM-<blink>{{7*7}}{%raw%}%(link)s&amp;"····'  # its last four signs are the owner's to read off
_ISOLATES = dict.fromkeys(map(ord, "\u2066\u2067\u2068\u2069"))
_LOUD = {"script", "object", "embed", "base", "mj-text"}


class _Page(HTMLParser):
    """What a browser would make of a page: its elements, their attributes and its words."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.attributes: list[tuple[str, str]] = []
        self._words: list[str] = []
        self._quiet = False
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes += [(name, value or "") for name, value in attrs]
        self._quiet = tag == "style"

    def handle_endtag(self, _tag: str) -> None:
        self._quiet = False

    def handle_data(self, data: str) -> None:
        if not self._quiet:
            self._words.append(data)

    @property
    def text(self) -> str:
        """Return the words as they are read, in one line."""
        return _read("".join(self._words))

    @property
    def obeys(self) -> list[str]:
        """Return what in the page would act: loud elements and attributes with a script in them."""
        acting = [name for name, value in self.attributes if name.startswith("on") or "javascript:" in value]
        return sorted(self.tags & _LOUD) + acting


def _read(text: str) -> str:
    return " ".join(text.translate(_ISOLATES).split())


@dataclass
class Journey:
    """The lead's desk with the hostile owner on it, and everything that was ever printed."""

    desk: Desk
    printed: list[str] = field(default_factory=list)

    def type(self, *words: str) -> Said:
        """Type a command and keep what it prints."""
        said = self.desk.type(*words)
        self.printed += [said.out, said.err]
        assert said.status in {0, 1}, said
        return said

    @property
    def mail(self) -> EmailMessage:
        """Return the one message that was sent."""
        return message_from_bytes(self._sent, EmailMessage, policy=policy.default)

    @property
    def raw(self) -> Message:
        """Return it with its headers as they are encoded: the modern reader of Python 3.11 puts spaces into names."""
        return message_from_bytes(self._sent, policy=policy.compat32)

    @property
    def _sent(self) -> bytes:
        (file,) = (self.desk.folder / "mails").glob("*.eml")
        return file.read_bytes()

    def part(self, kind: str) -> str:
        """Return the message's text or HTML."""
        found = self.mail.get_body((kind,))
        assert found is not None
        return str(found.get_content())


def _list() -> str:
    text = io.StringIO(newline="")
    rows = [("code", "name", "email", "country", "language"), (CODE, HOSTILE_NAME, ADDRESS, "GB", "en")]
    csv.writer(text).writerows(rows)
    return text.getvalue()


@pytest.fixture
def journey(desk: Desk) -> Journey:
    """Take the owner in, prove, sign, send and publish."""
    found = Journey(desk=desk)
    (desk.folder / "sales.csv").write_text(_list(), "utf-8", newline="")
    for words in (
        ("owners", "import", "sales.csv", "--yes"),
        ("proofs",),
        ("sign", "--by", HOSTILE_NAME.replace("\r\n", " "), "--all", "--unread-too", "--yes"),
        ("send", "--to-folder", "mails", "--yes"),
        ("bulletin",),
    ):
        found.type(*words)
    return found


@pytest.fixture
def world(journey: Journey) -> Iterator[World]:
    """Return the world of the campaign folder."""
    with assembly.opened(journey.desk.folder) as found:
        yield found


def test_the_register_keeps_the_name_on_one_line_and_the_cell_as_it_came(world: World) -> None:
    with world.register.look() as tx:
        (owner,) = tx.people.owners().values()
        (row,) = tx.lists.rows("sales")

    assert owner.name == NAME
    assert json.loads(row.raw)["name"] == HOSTILE_NAME.replace("\r\n", "\n")
    for piece in (
        "Zoë",
        "<script>alert(1)</script>",
        "{{ 7*7 }}",
        "{% raw %}",
        "%(link)s",
        "100 %",
        "=1+1",
        "Bcc:",
    ):
        assert piece in NAME
    assert "\u202e" not in NAME


def test_the_mail_s_headers_bear_the_name_and_nobody_else(journey: Journey) -> None:
    mail = journey.mail
    words, _, address = str(journey.raw["To"]).rpartition("<")

    assert (_read(str(make_header(decode_header(words)))), address) == (NAME, f"{ADDRESS}>")
    assert [name for name in mail if name.lower() in {"bcc", "cc", "resent-to"}] == []
    assert mail.get_all("Subject") == [mail["Subject"]]
    assert "alert" not in mail["Subject"]
    assert mail.defects == []


def test_the_mail_s_text_and_html_show_the_code_that_was_listed_and_obey_nothing(journey: Journey) -> None:
    page = _Page(journey.part("html"))

    assert SHOWN_CODE in _read(journey.part("plain"))
    assert SHOWN_CODE in page.text
    assert page.obeys == []
    assert "blink" not in page.tags


def test_the_owner_s_pages_show_the_code_obey_nothing_and_log_nothing(
    journey: Journey, world: World, caplog: pytest.LogCaptureFixture
) -> None:
    with world.register.change() as tx:
        (owner,) = tx.people.owners()
        link = link_of(tx, owner)
    client = TestClient(site.pages(world))
    first = client.get(f"/{link}")
    pages = [first, client.post(f"/{link}", data=_fields(first.text, "stop"))]
    pages.append(client.post(f"/{link}", data={**_fields(pages[-1].text, "signs"), "signs": "0172"}))
    pages += [client.get(f"/{link}/{way}") for way in ("fixed", "gone", "call", "help", "hurt", "letter")]

    assert [page.status_code for page in pages[:3]] == [200, 200, 200]
    assert SHOWN_CODE in _Page(pages[1].text).text
    assert "Has anybody ridden the bicycle?" in _Page(pages[2].text).text
    for page in pages:
        assert _Page(page.text).obeys == []
        assert "blink" not in _Page(page.text).tags
    assert [record for record in caplog.records if not record.name.startswith("httpx")] == []
    assert journey.desk.capsys.readouterr() == ("", "")


def _fields(html: str, do: str) -> dict[str, str]:
    """Return the hidden fields of the form that does *do*."""
    for form in re.findall(r"<form.*?</form>", html, re.DOTALL):
        hidden = dict(re.findall(r'<input type="hidden" name="([^"]*)" value="([^"]*)"', form))
        if hidden.get("do") == do or f'name="do" value="{do}"' in form:
            return {**hidden, "do": do}
    raise AssertionError(f"no form does {do}:\n{html}")


def test_the_proofs_and_the_public_pages_obey_nothing_and_the_public_ones_name_nobody(
    journey: Journey,
) -> None:
    written = {
        path.relative_to(journey.desk.folder).as_posix(): path.read_text("utf-8")
        for path in (journey.desk.folder / "out").rglob("*")
        if path.suffix in {".html", ".txt"}
    }
    public = [text for name, text in written.items() if name.startswith("out/bulletin/")]

    assert any(name.startswith("out/proofs/") for name in written)
    assert public
    assert [name for name, text in written.items() if name.endswith(".html") and _Page(text).obeys] == []
    assert not [text for text in public if "Zoë" in text or "alert(1)" in text]


def test_everything_on_the_console_stays_on_its_line_and_the_name_is_whole(journey: Journey) -> None:
    told = [journey.type("case", CODE), journey.type("case", CODE, "--words"), journey.type("status")]
    as_json = journey.type("case", CODE, "--format", "json").json

    assert NAME in told[0].out
    assert NAME in _read(told[1].out)
    assert NAME in json.dumps(as_json, ensure_ascii=False).replace('\\"', '"')
    for text in journey.printed:
        assert [
            sign for sign in text if unicodedata.category(sign) in {"Cc", "Cf", "Cs"} and sign != "\n"
        ] == []
        assert "Traceback" not in text
        assert not any(line.startswith(("Bcc:", "=1+1")) for line in text.splitlines())
