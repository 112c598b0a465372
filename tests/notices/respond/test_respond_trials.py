"""Trials by those who are not the owner: a mail passed on, a scanner that presses, a sign misread."""

import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import pytest
import uvicorn
from playwright.sync_api import Browser

from notices.cases.case import Case, Stopped
from notices.respond.app import application
from tests.owners_pages import BASE, KEY, Reader
from tests.owners_world import AFFECTED, Owners, owners_world


@pytest.fixture
def owners(tmp_path: Path) -> Iterator[Owners]:
    with owners_world(tmp_path) as found:
        yield found


def _bare(case: Case) -> Case:
    """Return a case without the count of its events, what a button alone says, and that a person must look."""
    return replace(case, version=0, stopped=Stopped.NO_WORD, aside_on=None)


def test_forwarded_mail_moves_nothing_of_the_owners(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    before = owners.case(unit_id)
    for stranger in range(12):
        reader = Reader(owners).open(link).send(press="do=stop")
        if stranger == 3:  # never ridden, by the code of another bicycle
            reader.send("signs", signs="0999")
            reader.open(f"{link}/another").send("check", code="QM-2534-B0999")
            reader.send("claim", press="stopped=yes", name="Dora Lane", phone="020 7946 0188", country="GB")
            reader.send("use", press="use=unridden")
        if stranger == 7:  # it is done, by signs that are not these
            reader.open(f"{link}/fixed")
            reader.send(by="owner", q__torque="yes", q__play="yes", signs="0555")

    after = owners.case(unit_id)
    assert after.stopped is Stopped.PRESSED
    assert _bare(after) == _bare(before)
    assert owners.kinds(unit_id).count("answer_set_aside") == 3
    (other,) = set(owners.all_units()) - {unit_id}
    assert owners.case(other).segment == "unridden"
    assert owners.case(other).stopped is Stopped.STOPPED


@contextmanager
def _served(owners: Owners) -> Iterator[str]:
    with socket.socket() as listening:
        listening.bind(("127.0.0.1", 0))
        listening.listen()
        port = listening.getsockname()[1]
        config = uvicorn.Config(application(owners.world, key=KEY), access_log=False, log_level="error")
        server = uvicorn.Server(config)
        thread = threading.Thread(target=server.run, args=([listening],), daemon=True)
        thread.start()
        while not server.started:
            time.sleep(0.02)
        yield f"http://127.0.0.1:{port}{BASE}"
        server.should_exit = True
        thread.join(timeout=10)


def test_a_scanner_that_fetches_every_link_and_presses_leaves_pressed_and_nothing_else(
    owners: Owners, chromium: Browser
) -> None:
    links = [owners.owner(f"Owner {place}") for place in range(4)]
    units = [owners.unit(link, f"QM-2534-B{place:04}") for place, link in enumerate(links)]
    before = [owners.case(unit_id) for unit_id in units]
    with _served(owners) as address:
        page = chromium.new_page()
        for link in links:
            page.goto(f"{address}/{link}")
            found = page.eval_on_selector_all("a[href]", "all => all.map(each => each.href)")
            for each in found:
                if each.startswith(address):
                    page.goto(each)
                    page.locator("main button").first.click()
            page.goto(f"{address}/{link}")
            page.locator("main button").first.click()
            page.locator("main button").first.click()
        page.close()

    after = [owners.case(unit_id) for unit_id in units]
    assert [case.stopped for case in after] == [Stopped.PRESSED] * 4
    assert [_bare(case) for case in after] == [_bare(case) for case in before]
    assert [set(owners.kinds(unit_id)) for unit_id in units] == [{"stop_stated"}] * 4
    assert set(owners.all_units()) == set(units)


@pytest.mark.parametrize("linked", [True, False])
def test_b_read_as_d_is_never_cleared(owners: Owners, linked: bool) -> None:  # noqa: FBT001 - a parameter
    link = owners.owner()
    unit_id = owners.unit(link, AFFECTED)
    reader = Reader(owners).open(f"{link}/another" if linked else "").send("check", code="QM-2534-D0172")

    assert "Still do not ride." in reader.text
    assert "You may ride." not in reader.text
    reader.send("claim", press="stopped=yes", name="Anna Berg", phone="020 7946 0123", country="GB")
    assert "You may ride." not in reader.text
    verdicts = {owners.case(each).verdict for each in owners.all_units()}
    assert verdicts == {"affected", "missing"}
    assert owners.case(unit_id).verdict == "affected"
