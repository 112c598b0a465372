"""Forms as they arrive: late, large, in pieces without end, of strange kinds; and methods that no page of ours uses."""

import asyncio
from collections.abc import Awaitable, Callable, Coroutine, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any, TypeVar

import pytest
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.types import Message

from notices.respond.limits import Caller
from notices.respond.receiving import (
    MOST_BYTES,
    MULTIPART,
    URLENCODED,
    Patience,
    read_form,
    read_upload,
)
from tests.owners_pages import Reader
from tests.owners_world import Owners, owners_world
from tests.photographs import picture, written

SHORT = Patience(pause=0.05, whole=0.2)
BOUNDARY = "b0undary"
_T = TypeVar("_T")
PARTS = f"{MULTIPART}; boundary={BOUNDARY}"


@pytest.fixture
def owners(tmp_path: Path) -> Iterator[Owners]:
    with owners_world(tmp_path) as found:
        yield found


def _run(steps: Coroutine[Any, Any, _T]) -> _T:
    """Run *steps* on a thread of their own: a browser of other tests may keep a loop in this one."""
    with ThreadPoolExecutor(max_workers=1) as alone:
        return alone.submit(asyncio.run, steps).result()


def part(head: str, content: bytes = b"x") -> bytes:
    return f"--{BOUNDARY}\r\n{head}\r\n\r\n".encode() + content + b"\r\n"


def field(name: str, content: bytes = b"x") -> bytes:
    return part(f'Content-Disposition: form-data; name="{name}"', content)


def file(name: str, content: bytes) -> bytes:
    return part(f'Content-Disposition: form-data; name="photo"; filename="{name}"', content)


def ended(*parts: bytes) -> bytes:
    return b"".join(parts) + f"--{BOUNDARY}--\r\n".encode()


def asked(receive: Callable[[], Awaitable[Message]], content_type: str) -> Request:
    headers = [(b"content-type", content_type.encode())]
    scope = {
        "type": "http",
        "method": "POST",
        "path": "/",
        "query_string": b"",
        "headers": headers,
        "app": None,
    }
    return Request(scope, receive)


def arriving(
    pieces: Sequence[bytes], *, wait: float = 0.0, ends: bool = True
) -> Callable[[], Awaitable[Message]]:
    """Return a body that comes piece by piece, each after a *wait*, and that *ends* or does not."""
    rest = list(pieces)

    async def receive() -> Message:
        await asyncio.sleep(wait)
        if not rest:
            await asyncio.sleep(60)
        return {"type": "http.request", "body": rest.pop(0), "more_body": bool(rest) or not ends}

    return receive


def status_of(reading: Awaitable[object]) -> int:
    async def read() -> int:
        try:
            await reading
        except HTTPException as fault:
            return fault.status_code
        return 200

    return _run(read())


def test_a_body_that_stops_coming_is_given_up() -> None:
    request = asked(arriving([b"do=stop"], ends=False), URLENCODED)

    assert status_of(read_form(request, patience=SHORT)) == 408


def test_a_body_that_trickles_is_given_up_in_the_end() -> None:
    request = asked(arriving([b"x"] * 1000, wait=0.01), URLENCODED)

    assert status_of(read_form(request, patience=SHORT)) == 408


def test_a_body_without_a_length_is_read_no_further_than_ours_can_be_long() -> None:
    pieces = [b"x" * 4096] * 100
    request = asked(arriving(pieces), URLENCODED)

    assert status_of(read_form(request)) == 413


def test_who_goes_away_in_the_middle_is_no_fault_of_ours() -> None:
    async def receive() -> Message:
        return {"type": "http.disconnect"}

    assert status_of(read_form(asked(receive, URLENCODED))) == 400


BOMBS = {
    "many fields": ended(*(field(f"f{place}") for place in range(200))),
    "many empty parts": ended(*(part('Content-Disposition: form-data; name=""', b"") for _ in range(500))),
    "many headers": ended(part("\r\n".join(f"X-{place}: 1" for place in range(50)))),
    "a long header": ended(part(f"Content-Disposition: form-data; name={'n' * 20_000}")),
    "no name": ended(part("Content-Disposition: form-data")),
    "no disposition": ended(part("X: y")),
    "a part in a part without end": ended(field("a", b"--" + BOUNDARY.encode()[:-1]) * 50),
    "no boundary in it": b"x" * 1000,
    "a long field": ended(field("a", b"x" * (MOST_BYTES + 1))),
    "many files": ended(*(file("p.jpg", b"x") for _ in range(50))),
}


@pytest.mark.parametrize("bomb", BOMBS.values(), ids=BOMBS)
def test_a_form_of_parts_made_to_burst_is_refused(bomb: bytes) -> None:
    async def read() -> object:
        return await read_upload(asked(arriving([bomb]), PARTS), Caller(), turn=asyncio.Semaphore(1))

    assert status_of(read()) == 400


@pytest.mark.parametrize(
    ("content_type", "status"),
    [
        (URLENCODED, 200),
        (f"{URLENCODED};charset=UTF-8", 200),
        (URLENCODED.upper(), 200),
        ("application/json", 415),
        ("text/plain", 415),  # what a form of another site can send without asking first
        ("", 415),
        ("application/x-www-form-urlencoded-not", 415),
        ("multipart/mixed; boundary=x", 415),
        (f"{PARTS}; charset=punycode", 415),  # a decoder that takes the square of the length
        (f"{PARTS}; charset=utf-8", 400),  # the right kind, and nothing that can be read
        (MULTIPART, 400),
        (f"{MULTIPART}; boundary={'b' * 1000}", 400),
    ],
)
def test_only_the_two_kinds_of_form_that_browsers_send_are_read(
    owners: Owners, content_type: str, status: int
) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    answer = Reader(owners).client.post(
        f"/drayling/{link}", content=b"do=stop", headers={"content-type": content_type}
    )

    assert answer.status_code == status
    assert bool(owners.kinds(unit_id)) is (status == 200)


@pytest.mark.parametrize(
    "method", ["PUT", "PATCH", "DELETE", "OPTIONS", "TRACE", "CONNECT", "BREW", "PROPFIND"]
)
@pytest.mark.parametrize("path", ["", "LINK", "LINK/fixed", "style.css", "picture/x", "a/b/c/d"])
def test_a_method_that_no_page_of_ours_uses_is_refused_and_changes_nothing(
    owners: Owners, method: str, path: str
) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    sent = {"content-type": URLENCODED}
    answer = Reader(owners).client.request(
        method, f"/drayling/{path.replace('LINK', link)}", content=b"do=stop", headers=sent
    )

    assert answer.status_code == 405
    assert answer.headers["allow"] == "GET, HEAD, POST"
    assert answer.headers["content-security-policy"].startswith("default-src 'none'")
    assert owners.kinds(unit_id) == []


@pytest.mark.parametrize("method", ["GET", "HEAD"])
def test_reading_with_a_form_in_the_body_or_the_address_changes_nothing(owners: Owners, method: str) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    for way in ("", "/hurt", "/fixed", "/gone", "/photo", "/another"):
        Reader(owners).client.request(
            method,
            f"/drayling/{link}{way}?do=stop&phone=02079460123&signs=0172&by=owner",
            content=b"do=stop&signs=0172&phone=02079460123",
            headers={"content-type": URLENCODED},
        )

    assert owners.kinds(unit_id) == []
    assert set(owners.all_units()) == {unit_id}


def test_the_size_of_head_address_and_question_is_bounded(owners: Owners) -> None:
    client = Reader(owners).client

    assert client.get("/drayling/", headers={"x-long": "x" * 20_000}).status_code == 431
    assert client.get("/drayling/", headers={f"x-{place}": "x" for place in range(150)}).status_code == 431
    assert client.get(f"/drayling/{'a' * 500}").status_code == 414
    assert client.get(f"/drayling/?{'a' * 500}").status_code == 414


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({"sec-fetch-site": "same-origin"}, 200),
        ({"sec-fetch-site": "cross-site"}, 403),
        ({"sec-fetch-site": "same-site"}, 403),
        ({"origin": "https://aldmere.example", "sec-fetch-site": "cross-site"}, 403),
        ({"origin": "https://[::1"}, 403),
        ({"origin": ""}, 403),
    ],
)
@pytest.mark.parametrize("path", ["LINK", "LINK/hurt", "LINK/photo", "start", "start/call"])
def test_every_form_is_asked_where_it_comes_from(
    owners: Owners, path: str, headers: dict[str, str], status: int
) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    fields = {"do": "stop", "phone": "020 7946 0123", "words": "x", "name": "Dora"}
    answer = Reader(owners).client.post(
        f"/drayling/{path.replace('LINK', link)}", data=fields, headers=headers
    )

    assert answer.status_code == status
    if status != 200:
        assert owners.kinds(unit_id) == []
        assert set(owners.all_units()) == {unit_id}


def test_a_large_form_is_refused_by_the_length_it_says(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    reader = Reader(owners)

    for path in (link, f"{link}/hurt", f"{link}/photo"):
        said = {"content-type": PARTS, "content-length": str(10**9)}
        answer = reader.client.post(f"/drayling/{path}", content=b"x", headers=said)
        assert answer.status_code == 413
        assert "That was too much for one form." in answer.text
    never_read = written(picture()) + b"\0" * 40_000
    answer = reader.client.post(f"/drayling/{link}/hurt", files={"photo": never_read})
    assert answer.status_code == 413


def test_a_photo_for_a_link_that_is_nobodys_is_not_even_read(owners: Owners) -> None:
    taken = 0

    async def receive() -> Message:
        nonlocal taken
        taken += 1
        return {"type": "http.request", "body": b"x", "more_body": True}

    sent: list[Message] = []

    async def send(message: Message) -> None:
        sent.append(message)

    scope = {
        "type": "http",
        "method": "POST",
        "path": "/drayling/0123456789/photo",
        "query_string": b"",
        "headers": [(b"content-type", PARTS.encode())],
        "client": ("203.0.113.7", 4711),
    }

    async def ask() -> None:
        await Reader(owners).client.app(scope, receive, send)

    _run(ask())

    assert sent[0]["status"] == 404
    assert taken == 0
