"""The owners' pages as they are served: started by the command, read over HTTP, ended by the system."""

import os
import re
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator

import pytest

from notices.assembly import opened
from notices.settings import Settings
from notices.work.links import link_of
from tests.commands import Desk
from tests.source import ROOT


def _free_port() -> int:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        return int(free.getsockname()[1])


@pytest.fixture
def served(desk: Desk) -> Iterator[tuple[str, subprocess.Popen[str]]]:
    """Serve the demo's stop warning on a free port; yield its address and the process."""
    desk.imported()
    desk.signed()
    port = _free_port()
    process = subprocess.Popen(
        [sys.executable, "-m", "notices.cli", "serve", "--port", str(port)],
        cwd=desk.folder,
        env={**os.environ, "PYTHONPATH": str(ROOT), "PYTHONUNBUFFERED": "1"},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    yield f"http://127.0.0.1:{port}", process
    process.kill()
    process.communicate()


def _read(address: str) -> str:
    for _ in range(200):
        try:
            with urllib.request.urlopen(address, timeout=5) as answer:  # noqa: S310 - our own server
                return str(answer.read().decode())
        except urllib.error.URLError as fault:
            if isinstance(fault, urllib.error.HTTPError):
                raise
            time.sleep(0.05)
    raise AssertionError("the server did not start")


def _link(desk: Desk) -> str:
    with opened(desk.folder, Settings()) as world, world.register.change() as tx:
        owner = next(owner for owner in tx.people.owners().values() if owner.name == "Anna Reed")
        return link_of(tx, owner.owner_id)


def test_an_owner_reads_the_hazard_and_the_public_page_and_nothing_is_written_down(
    served: tuple[str, subprocess.Popen[str]], desk: Desk
) -> None:
    address, process = served
    link = _link(desk)
    page = _read(f"{address}/{link}")
    public = _read(f"{address}/bulletin")
    process.send_signal(signal.SIGTERM)
    out, err = process.communicate(timeout=20)

    assert "Stop riding your Drayling 2 now." in page.replace("\u00a0", " ")
    assert "Stop riding your Drayling 2 now." in public.replace("\u00a0", " ")
    assert re.findall(r"(?:src|href)=\"(https?://[^\"]+)\"", page) == []
    assert out.startswith("Serving the owners' pages on http://127.0.0.1:")
    assert link not in out + err
    assert "Traceback" not in err


def test_nothing_is_served_before_a_signature(desk: Desk) -> None:
    desk.imported()
    said = desk.type("serve", "--port", "0")

    assert said.status == 1
    assert said.out.startswith("campaign.yaml: must mend [nothing-signed]")
