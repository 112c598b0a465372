"""The mail server's password from a real keyring, in processes of their own; the server asks for it."""

import base64
import os
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

import pytest

from tests.commands import LIST, a_campaign
from tests.mail_servers import Script, ScriptedServer
from tests.source import ROOT

USER, PASSWORD = "safety@aldmere.example", "Würfel 7"
SIGN_IN = "AUTH PLAIN " + base64.b64encode(f"\0{USER}\0{PASSWORD}".encode()).decode()
IN_A_FILE = {"PYTHON_KEYRING_BACKEND": "keyrings.alt.file.PlaintextKeyring"}
LOCKED = """
from keyring.backend import KeyringBackend
from keyring.errors import KeyringLocked

class Keyring(KeyringBackend):
    priority = 1

    def get_password(self, service, username):
        raise KeyringLocked("nobody has unlocked it")

    def set_password(self, service, username, password):
        raise KeyringLocked("nobody has unlocked it")
"""


class Office:
    """A campaign folder with a mail server, in an account of its own."""

    def __init__(self, home: Path, server: ScriptedServer) -> None:
        self.home = home
        self.folder = a_campaign(home / "steering-link")
        (self.folder / "mail.toml").write_text(
            f'host = "127.0.0.1"\nport = {server.port}\nsecurity = "none"\nuser = "{USER}"\npace = "60/s"\n'
        )
        (self.folder / "sales.csv").write_text(LIST, "utf-8")

    def run(
        self, *words: str, given: Mapping[str, str] = IN_A_FILE, answer: str = ""
    ) -> subprocess.CompletedProcess[str]:
        """Run one module with these settings and an answer at its input."""
        plain = {
            name: value for name, value in os.environ.items() if not name.startswith(("NOTICES_", "PYTHON"))
        }
        settings = {**plain, "XDG_DATA_HOME": str(self.home), "HOME": str(self.home), **given}
        settings["PYTHONPATH"] = f"{ROOT}{os.pathsep}{self.home}"
        return subprocess.run(
            [sys.executable, "-m", *words],
            cwd=self.folder,
            env=settings,
            input=answer,
            capture_output=True,
            text=True,
            check=False,
        )

    def ready(self) -> None:
        """Take the list in and sign all that somebody gets next."""
        for words in (
            ("owners", "import", "sales.csv"),
            ("sign", "--by", "Mara Quill", "--all", "--unread-too"),
        ):
            done = self.run("notices.cli", *words, "--yes")
            assert done.returncode in {0, 1}, done.stderr


@pytest.fixture
def server() -> ScriptedServer:
    return ScriptedServer(Script(ehlo=("AUTH PLAIN",)))


def test_the_password_comes_from_the_keyring_where_the_environment_has_none(
    tmp_path: Path, server: ScriptedServer
) -> None:
    with server:
        office = Office(tmp_path, server)
        office.ready()
        kept = office.run("keyring", "set", "notices:127.0.0.1", USER, answer=PASSWORD)
        sent = office.run("notices.cli", "send", "--yes")

        assert kept.returncode == 0, kept.stderr
        assert sent.returncode == 0, sent.stderr
        assert "2 handed over" in sent.stdout
        assert SIGN_IN in server.commands
        assert PASSWORD not in sent.stdout + sent.stderr


def test_the_environment_comes_before_the_keyring(tmp_path: Path, server: ScriptedServer) -> None:
    with server:
        office = Office(tmp_path, server)
        office.ready()
        office.run("keyring", "set", "notices:127.0.0.1", USER, answer="another")
        office.run("notices.cli", "send", "--yes", given={**IN_A_FILE, "NOTICES_MAIL_PASSWORD": PASSWORD})

        assert SIGN_IN in server.commands


def test_without_a_password_one_line_says_both_ways_and_the_server_hears_no_guess(
    tmp_path: Path, server: ScriptedServer
) -> None:
    with server:
        office = Office(tmp_path, server)
        office.ready()
        no_keyring = {"PYTHON_KEYRING_BACKEND": "keyring.backends.fail.Keyring"}
        for given in (IN_A_FILE, no_keyring):
            sent = office.run("notices.cli", "send", "--yes", given=given)
            told = sent.stdout + sent.stderr

            assert sent.returncode == 2
            assert "give it by NOTICES_MAIL_PASSWORD" in told
            assert f"keyring set notices:127.0.0.1 '{USER}'" in told
            assert "Traceback" not in told
        assert "AUTH" not in server.verbs()


def test_a_locked_keyring_is_one_line_with_the_way_out(tmp_path: Path, server: ScriptedServer) -> None:
    (tmp_path / "locked.py").write_text(LOCKED)
    with server:
        office = Office(tmp_path, server)
        office.ready()
        sent = office.run("notices.cli", "send", "--yes", given={"PYTHON_KEYRING_BACKEND": "locked.Keyring"})

        assert sent.returncode == 2
        assert sent.stderr.strip() == (
            "notices: the keyring cannot be read (KeyringLocked); unlock it and try again, "
            "or give the password by NOTICES_MAIL_PASSWORD"
        )
        assert server.connections == 0
