"""Links that are nobody's are answered alike to the last byte, and what people type stands in no address and no log."""

import logging
import re
import warnings
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from urllib.parse import unquote_plus

import pytest
from httpx2 import Response
from sqlalchemy import event
from starlette.testclient import TestClient

from notices.store import SqlRegister
from tests import photographs
from tests.owners_pages import Reader
from tests.owners_world import AFFECTED, Owners, owners_world

WAYS = (
    "",
    "/hurt",
    "/gone",
    "/another",
    "/nocode",
    "/call",
    "/helper",
    "/print",
    "/fixed",
    "/photo",
    "/no-such-way",
)


@pytest.fixture
def owners(tmp_path: Path) -> Iterator[Owners]:
    with owners_world(tmp_path) as found:
        yield found


@dataclass(frozen=True)
class Seen:
    """All that somebody outside can see of an answer, and what it cost the register."""

    status: int
    headers: tuple[tuple[str, str], ...]
    body: bytes
    statements: int


def _nobodys(owners: Owners) -> dict[str, str]:
    """Return links of every sort that is nobody's."""
    retired, erased = owners.owner("Rita Tired"), owners.owner("Erik Rased")
    for link in (retired, erased):
        owners.unit(link)
    owner_id = owners.owner_id(erased)
    owners.retire(retired)
    with owners.world.register.change() as tx:
        owner = tx.people.owners([owner_id])[owner_id]
        tx.people.put_owners([replace(owner, name="", erased_at=owners.clock())])
    return {
        "unknown": "0123456789",
        "retired": retired,
        "erased": erased,
        "short": "0",
        "long": "0" * 60,
        "a name": "anna-berg",
        "quoted": "%27%3B--",
        "not text": "%ff%fe%00",
        "script": "%3Cscript%3E",
        "another alphabet": "%D9%A0%D9%A1%D9%A2",
        "a code": AFFECTED,
    }


def _seen(owners: Owners, ask: "Asking", path: str) -> Seen:
    register = owners.world.register
    assert isinstance(register, SqlRegister)
    statements: list[str] = []

    def count(*told: object) -> None:
        statements.append(str(told[2]))

    event.listen(register.engine, "before_cursor_execute", count)
    try:
        answer = ask(path)
    finally:
        event.remove(register.engine, "before_cursor_execute", count)
    return Seen(
        status=answer.status_code,
        headers=tuple(answer.headers.multi_items()),
        body=answer.content,
        statements=len(statements),
    )


class Asking:
    """One way of asking for a page."""

    def __init__(
        self, client: TestClient, method: str, fields: dict[str, str] | None, *, photo: bool = False
    ) -> None:
        self.client, self.method, self.fields, self.photo = client, method, fields, photo

    def __call__(self, path: str) -> Response:
        """Ask for a page."""
        files = {"photo": ("p.jpg", photographs.polyglot())} if self.photo else None
        return self.client.request(self.method, path, data=self.fields, files=files, follow_redirects=False)


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize(
    ("method", "fields"),
    [
        ("GET", None),
        ("HEAD", None),
        ("POST", {"do": "stop"}),
        ("POST", {"do": "signs", "signs": "0172"}),
        (
            "POST",
            {"phone": "020 7946 0123", "by": "owner", "signs": "0172", "holder": "Dora", "code": AFFECTED},
        ),
    ],
)
def test_links_of_nobodys_cannot_be_told_apart(
    owners: Owners, method: str, fields: dict[str, str] | None, way: str
) -> None:
    asking = Asking(Reader(owners).client, method, fields)
    asking("/drayling/9999999999")  # what is compiled once is compiled now
    seen = {sort: _seen(owners, asking, f"/drayling/{link}{way}") for sort, link in _nobodys(owners).items()}

    expected = seen["unknown"]
    assert expected.status == 404
    assert expected.statements > 0
    assert {sort: each for sort, each in seen.items() if each != expected} == {}


def test_nor_by_a_photograph_sent_to_them(owners: Owners) -> None:
    asking = Asking(Reader(owners).client, "POST", {"nonce": "x"}, photo=True)
    asking("/drayling/9999999999/photo")
    seen = {sort: _seen(owners, asking, f"/drayling/{link}/photo") for sort, link in _nobodys(owners).items()}

    assert set(seen.values()) == {seen["unknown"]}
    assert seen["unknown"].status == 404


def test_hidden_fields_too_old_made_up_or_torn_are_answered_alike(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    reader = Reader(owners).open(link).send(press="do=stop").send("signs", signs="0172")
    old = reader.page.forms[-1].fields["proof"]
    owners.clock.at = owners.clock().replace(hour=23)
    nonce = "0" * 26
    pages = [
        reader.post({"do": "use", "use": "unridden", "nonce": nonce, "proof": proof}).html
        for proof in (
            old,
            old[:-3],
            "e30.e30",
            "",
            "x" * 5000,
            "\u0661.\ud83d\ude00".encode("utf-8", "replace").decode(),
        )
    ]
    bare = {re.sub(r'name="nonce" value="\w+"', "", page) for page in pages}

    assert len(bare) == 1
    assert "Please type the" in pages[0]


CODE = "QM-2534-B3391"
SECRETS = (
    "Annabel",
    "Bergmeister",
    "annabel@bergmeister.example",
    "7946",
    "Mill Lane",
    "it broke under me",
    "Dora Grandchild",
    "3391",
    CODE,
    photographs.PLACE_AND_MAKER.decode(),
    "198.51.100.77",
)


def _walk(reader: Reader, link: str) -> Iterator[Reader]:
    """Go through the pages as somebody does who types everything everywhere."""
    person = {"name": "Annabel Bergmeister", "phone": "020 7946 0123", "email": "annabel@bergmeister.example"}
    yield reader.open(link)
    yield reader.send(press="do=stop")
    yield reader.send("signs", signs="0555")
    yield reader.send("signs", signs="3391")
    yield reader.send("use", press="use=unknown")
    yield reader.send("place", place="Mill Lane 4", phone="nonsense Annabel")
    yield reader.send("place", place="Mill Lane 4", **{k: person[k] for k in ("phone", "email")})
    yield reader.send("remedy", press="remedy=repair")
    for way, typed in (
        ("hurt", {"phone": "020 7946 0123", "words": "it broke under me"}),
        ("helper", {"helper": "Dora Grandchild", "phone": "020 7946 0124"}),
        ("print", {"address": "Mill Lane 4"}),
        ("gone", {"holder": "Dora Grandchild, 020 7946 0124", "signs": "0999"}),
        ("another", {"code": "QM-2534-D3391"}),
    ):
        yield reader.open(f"{link}/{way}").send(**typed)
    yield reader.open(f"{link}/photo").upload(photographs.telling(), name="Annabel Bergmeister.jpg")
    yield reader.open(f"{link}/photo").upload(b"Bergmeister", name="Annabel Bergmeister.svg")
    yield reader.open(f"{link}/fixed").upload(
        photographs.telling(), by="owner", signs="3391", q__torque="yes"
    )
    yield reader.open("").send("check", code=CODE)
    yield reader.send("claim", press="stopped=yes", country="GB", **person)


def test_nothing_that_was_typed_stands_in_an_address_a_title_or_a_log(
    owners: Owners, caplog: pytest.LogCaptureFixture, capfd: pytest.CaptureFixture[str]
) -> None:
    caplog.set_level(logging.DEBUG)
    link = owners.owner("Annabel Bergmeister")
    owners.unit(link, CODE)
    reader = Reader(owners, at="198.51.100.77")
    with warnings.catch_warnings(record=True) as warned:
        warnings.simplefilter("always")
        for page in _walk(reader, link):
            found = re.findall(r'(?:href|src|action|formaction)="([^"]*)"', page.html)
            title = re.search(r"<title>(.*?)</title>", page.html)
            assert title is not None
            shown = unquote_plus(" ".join([*found, title[1], page.address, *page.headers.values()]))

            assert page.status == 200
            assert [secret for secret in SECRETS if secret in shown.replace("tel:", "")] == []
            assert "?" not in "".join(
                each for each in found if not re.search("style.css|lang=|mailto:", each)
            )
    out, err = capfd.readouterr()
    written = "\n".join([_logged(caplog), out, err, *(str(each.message) for each in warned)])

    assert [secret for secret in (*SECRETS, link) if secret in written] == []


def _logged(caplog: pytest.LogCaptureFixture) -> str:
    """Return all that was logged but by the test's own browser."""
    told = [each for each in caplog.records if not each.name.startswith("httpx2")]
    return "\n".join(f"{each.name} {each.getMessage()} {each.exc_text or ''}" for each in told)


class _Telling:
    """A folder that fails, and says in its words what it was given."""

    def read(self, name: str) -> bytes | None:
        del name
        return None

    def write(self, name: str, data: bytes) -> None:
        raise RuntimeError(f"cannot write for Annabel Bergmeister, 020 7946 0123: {name} {data!r}")

    def names(self, below: str) -> list[str]:
        del below
        return []


def test_a_fault_of_ours_is_answered_with_the_number_and_written_down_without_its_words(
    owners: Owners, caplog: pytest.LogCaptureFixture, capfd: pytest.CaptureFixture[str]
) -> None:
    caplog.set_level(logging.DEBUG)
    link = owners.owner("Annabel Bergmeister")
    unit_id = owners.unit(link)
    reader = Reader(replace(owners, world=replace(owners.world, folder=_Telling())))
    reader.open(f"{link}/photo").upload(photographs.telling())
    out, err = capfd.readouterr()

    assert reader.status == 500
    assert "Something went wrong on our side." in reader.text
    assert "Stop riding your Drayling 2 now." in reader.text
    assert "tel:+448081570172" in reader.calls
    assert reader.headers["content-security-policy"].startswith("default-src 'none'")
    assert owners.kinds(unit_id) == []
    written = _logged(caplog) + out + err + reader.html
    assert re.search(r"a page failed: RuntimeError at .*photos\.py:\d+", caplog.text)
    assert [each for each in (*SECRETS, link, unit_id, "cannot write") if each in written] == []


def test_where_the_register_is_gone_the_last_signed_words_still_stand(
    owners: Owners, tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    link = owners.owner()
    owners.unit(link)
    with owners_world(tmp_path / "gone") as other:
        reader = Reader(other)
        reader.open("")
        register = other.world.register
        assert isinstance(register, SqlRegister)
        with register.engine.begin() as connection:
            connection.exec_driver_sql("ALTER TABLE revisions RENAME TO lost")
        reader.open(link)

        assert reader.status == 500
        assert "Stop riding your Drayling 2 now." in reader.text
        assert link not in _logged(caplog)
        with register.engine.begin() as connection:
            connection.exec_driver_sql("ALTER TABLE lost RENAME TO revisions")


def test_before_anything_was_read_a_fault_says_little_and_says_it_safely(owners: Owners) -> None:
    reader = Reader(owners)
    register = owners.world.register
    assert isinstance(register, SqlRegister)
    with register.engine.begin() as connection:
        connection.exec_driver_sql("ALTER TABLE revisions RENAME TO lost")

    answer = reader.client.get("/drayling/0123456789")

    assert answer.status_code in {500, 503}
    assert "Traceback" not in answer.text
    assert answer.headers["content-security-policy"].startswith("default-src 'none'")
