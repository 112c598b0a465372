"""What is written for readers agrees with what the program does."""

import re
import subprocess
import sys

import pytest

from notices.cli import explaining
from tests import reference, source

_README = reference.README.read_text("utf-8")


def test_the_command_reference_is_the_generated_one() -> None:
    assert reference.written(_README) == _README, "run python -m tests.reference"


@pytest.mark.parametrize("name", [name for name, _ in reference.commands()])
def test_every_command_says_what_it_does(name: str) -> None:
    command = dict(reference.commands())[name]
    mute = [one.name for one in command.params if one.name != "help" and not getattr(one, "help", None)]

    assert command.help
    assert mute == []
    assert f"#### `{name}" in _README


def test_every_code_can_be_looked_up_by_the_command() -> None:
    assert explaining.codes() == sorted(source.explanations())


def test_the_two_ways_to_start_stand_in_the_readme() -> None:
    assert "python3 -m venv .venv && .venv/bin/pip install . && .venv/bin/notices demo" in _README
    assert "python3 -m venv .venv && .venv/bin/pip install -e '.[test]' && .venv/bin/pytest" in _README


def test_every_file_that_the_documents_show_is_there() -> None:
    for name in ("README.md", "DEVELOPERS.md"):
        text = (source.ROOT / name).read_text("utf-8")
        links = re.findall(r"\]\((?!https?:|#)([^)#]+)", text)

        assert [link for link in links if not (source.ROOT / link).exists()] == []


def test_the_pictures_are_three_and_small() -> None:
    shown = re.findall(r"!\[[^\]]+\]\(([^)]+\.png)\)", _README)

    assert len(shown) == 3
    assert all((source.ROOT / name).stat().st_size < 150_000 for name in shown)


def test_help_waits_for_no_heavy_library() -> None:
    heavy = "{'sqlalchemy', 'psycopg', 'uvicorn', 'starlette', 'jinja2', 'mjml', 'pydantic', 'babel', 'phonenumbers'}"
    program = (
        "import sys, io, contextlib\n"
        "from notices.cli.__main__ import run\n"
        "with contextlib.redirect_stdout(io.StringIO()):\n"
        "    status = run(['--help'])\n"
        f"print(status, sorted({heavy} & sys.modules.keys()))"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True, cwd=source.ROOT
    )

    assert done.stdout == "0 []\n"
