"""The starting folder loads as it is, and so does every example in it once its comment is taken away."""

import tomllib

import pytest

from notices.campaign.checks import check
from notices.campaign.loading import load
from notices.campaign.models import Campaign
from notices.campaign.needs import Purpose, lacking
from notices.campaign.shape import keys
from notices.campaign.starter import MAIL_TOML, STARTER
from tests.stove import WHOLE, blocks, opened

_PICTURES = {"pictures/stove.png": b"\x89PNG\r\n\x1a\n", "pictures/base.png": b"\x89PNG\r\n\x1a\n"}
_BLOCKS = list(blocks())
_NAMES = [STARTER.split("\n")[block[0]].strip("# ").partition(":")[0] for block in _BLOCKS]


def test_a_new_folder_has_no_findings() -> None:
    loaded = load(STARTER)
    assert loaded.campaign is not None

    assert (loaded.findings, list(check(loaded.campaign, loaded.lines, {}))) == ((), [])


def test_a_new_folder_holds_nothing_but_two_names() -> None:
    loaded = load(STARTER)
    assert loaded.campaign is not None

    assert loaded.campaign.model_dump(exclude_unset=True) == {
        "issuer": {"name": "Your firm"},
        "product": {"name": "Your product"},
    }


@pytest.mark.parametrize("block", _BLOCKS, ids=_NAMES)
def test_each_example_loads_alone(block: tuple[int, ...]) -> None:
    loaded = load(opened(block))

    assert loaded.findings == ()


def test_all_examples_load_together() -> None:
    loaded = load(WHOLE)
    assert loaded.campaign is not None

    assert (loaded.findings, list(check(loaded.campaign, loaded.lines, _PICTURES))) == ((), [])


@pytest.mark.parametrize("purpose", ["proofs", "bulletin", "serve", "stop-sale"])
def test_the_examples_together_lack_nothing(purpose: Purpose) -> None:
    loaded = load(WHOLE)
    assert loaded.campaign is not None

    assert list(lacking(loaded.campaign, purpose, loaded.lines)) == []


def test_every_part_of_the_file_has_an_example() -> None:
    shown = {line.partition(":")[0] for line in WHOLE.split("\n") if line[:1].isalpha()}

    assert sorted(shown) == sorted(keys(Campaign))


def test_no_line_is_too_long_for_a_narrow_window() -> None:
    assert [line for line in STARTER.split("\n") if len(line) > 110] == []


def test_the_mail_settings_are_examples_in_toml() -> None:
    live = "\n".join(line.removeprefix("# ") for line in MAIL_TOML.split("\n") if " = " in line)

    assert (tomllib.loads(MAIL_TOML), tomllib.loads(live)) == (
        {},
        {
            "host": "mail.firm.example",
            "port": 587,
            "security": "starttls",
            "user": "safety@firm.example",
            "pace": "30/min",
            "connections": 2,
        },
    )
