"""The server before the pages: who sends slowly is let go, and nothing of a request is written down."""

import socket
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Thread

import pytest
import typer
import uvicorn

from notices.cli.entry import site
from notices.cli.entry.patience import PatientProtocol
from tests.owners_world import Owners, owners_world


@pytest.fixture
def owners(tmp_path: Path) -> Iterator[Owners]:
    with owners_world(tmp_path) as found:
        yield found


class _Hasty(PatientProtocol):
    within = 0.4


@contextmanager
def _serving(owners: Owners) -> Iterator[tuple[str, int]]:
    with site.listening("127.0.0.1", 0) as at:
        settings = uvicorn.Config(
            site.pages(owners.world),
            http=_Hasty,
            lifespan="off",
            log_config=None,
            log_level="critical",
            ws="none",
        )
        server = uvicorn.Server(settings)
        thread = Thread(target=server.run, kwargs={"sockets": [at]}, daemon=True)
        thread.start()
        while not server.started:
            time.sleep(0.01)
        yield "127.0.0.1", int(at.getsockname()[1])
        server.should_exit = True
        thread.join(timeout=10)


def _rest(connection: socket.socket) -> bytes:
    """Read until the server closes."""
    found = b""
    while piece := connection.recv(65_536):
        found += piece
    return found


@pytest.mark.parametrize("head", [b"", b"GET / HT", b"GET / HTTP/1.1\r\nHost: aldmere.example\r\nX-Slow: "])
def test_who_does_not_send_a_whole_head_in_time_is_let_go(owners: Owners, head: bytes) -> None:
    with _serving(owners) as place, socket.create_connection(place, timeout=10) as connection:
        connection.sendall(head)

        assert _rest(connection) == b""


def test_the_second_request_of_a_connection_has_no_more_time_than_the_first(owners: Owners) -> None:
    whole = b"GET /style.css HTTP/1.1\r\nHost: aldmere.example\r\n\r\n"
    with _serving(owners) as place, socket.create_connection(place, timeout=10) as connection:
        connection.sendall(whole)
        assert connection.recv(12) == b"HTTP/1.1 200"
        connection.sendall(b"GET / HTTP/1.1\r\nHost: aldm")

        assert b"HTTP/1.1" not in _rest(connection)


def test_a_request_under_way_is_not_cut_off(owners: Owners) -> None:
    kind = b"Content-Type: application/x-www-form-urlencoded\r\nContent-Length: 8"
    head = b"POST / HTTP/1.1\r\nHost: a.example\r\n" + kind + b"\r\n\r\n"
    with _serving(owners) as place, socket.create_connection(place, timeout=10) as connection:
        connection.sendall(head)
        time.sleep(0.8)  # twice as long as a head may take
        connection.sendall(b"do=check")

        assert connection.recv(12) == b"HTTP/1.1 200"


def test_a_head_beyond_all_measure_is_refused(owners: Owners) -> None:
    with _serving(owners) as place, socket.create_connection(place, timeout=10) as connection:
        connection.sendall(b"GET / HTTP/1.1\r\nHost: a.example\r\nX-Long: " + b"x" * 200_000)

        assert connection.recv(12) == b"HTTP/1.1 400"


def test_a_port_that_is_taken_ends_in_a_sentence(capsys: pytest.CaptureFixture[str]) -> None:
    with site.listening("127.0.0.1", 0) as taken:
        port = taken.getsockname()[1]
        with pytest.raises(typer.Exit) as ended:
            site.listening("127.0.0.1", port)

    assert ended.value.exit_code == 2
    assert capsys.readouterr().err.startswith(f"notices: cannot listen on 127.0.0.1 port {port} (")
