"""The public address shows a code while somebody tries it, and nothing otherwise."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from notices.work import page_code
from tests.owners_pages import Reader
from tests.owners_world import Owners, owners_world


@pytest.fixture
def owners(tmp_path: Path) -> Iterator[Owners]:
    with owners_world(tmp_path) as found:
        yield found


def test_nothing_is_there_until_a_code_is_drawn(owners: Owners) -> None:
    assert Reader(owners).open("ready").status == 404


def test_the_code_is_shown_for_half_an_hour_at_the_address_that_was_named(owners: Owners) -> None:
    address = page_code.draw(owners.world)
    code = page_code.shown(owners.world)

    assert address.endswith("/ready")
    page = Reader(owners).open("ready")
    assert page.status == 200
    assert f"<h1>{code}</h1>" in page.html
    owners.clock.forward(timedelta(minutes=31))
    assert Reader(owners).open("ready").status == 404
