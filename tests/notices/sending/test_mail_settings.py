"""mail.toml: every fault at once, with its line."""

import pytest

from notices.cases.outgoing import Pace
from notices.sending.mail_settings import MailSettings, read


def test_a_whole_file_is_read() -> None:
    text = """\
host = "mail.aldmere.example"
port = 2525
security = "tls"
user = "safety@aldmere.example"
pace = "500/h"
connections = 4
"""

    assert read(text) == (
        MailSettings(
            host="mail.aldmere.example",
            port=2525,
            security="tls",
            user="safety@aldmere.example",
            pace=Pace(text="500/h", gap=7.2),
            connections=4,
        ),
        (),
    )


# RFC 6409 section 3.1 (587), RFC 8314 section 3.3 (465), RFC 5321 section 4.5.4.2 (25)
@pytest.mark.parametrize(
    ("text", "port"),
    [
        ('host = "mail.example"', 587),
        ('host = "mail.example"\nsecurity = "starttls"', 587),
        ('host = "mail.example"\nsecurity = "tls"', 465),
        ('host = "localhost"\nsecurity = "none"', 25),
    ],
)
def test_the_port_follows_the_security(text: str, port: int) -> None:
    settings, findings = read(text)

    assert settings is not None
    assert (settings.port, settings.pace.text, settings.connections, findings) == (port, "30/min", 1, ())


def test_a_host_beyond_ascii_is_spelt_by_idna_2008() -> None:
    # faß.de: xn--fa-hia.de under IDNA 2008, another firm's fass.de under IDNA 2003 (Unicode TS 46, section 7)
    settings, _ = read('host = "faß.de"')

    assert settings is not None
    assert settings.host == "xn--fa-hia.de"


FAULTS = [
    ("mail-not-toml", "host = mail.example", 1),
    ("mail-not-toml", 'host = "a.example"\nport = 1\nport = 2', 3),
    ("mail-not-toml", 'host = "a\0.example"', 1),
    ("mail-key-unknown", 'host = "mail.example"\nhots = "x"', 2),
    ("mail-key-unknown", 'host = "mail.example"\n\n[server]\nport = 1', 3),
    ("mail-password-in-file", 'host = "mail.example"\npassword = "hunter2"', 2),
    ("mail-password-in-file", 'host = "mail.example"\nKennwort = "hunter2"', 2),
    ("mail-host-missing", 'user = "x"', None),
    ("mail-host-unusable", 'host = "https://mail.example"', 1),
    ("mail-host-unusable", 'user = "x"\nhost = "mail example"', 2),
    ("mail-host-unusable", "host = 3", 1),
    ("mail-host-unusable", 'host = "mail.example:587"', 1),
    ("mail-host-unusable", 'host = ""', 1),
    ("mail-port-unusable", 'host = "mail.example"\nport = "587"', 2),
    ("mail-port-unusable", 'host = "mail.example"\nport = 0', 2),
    ("mail-port-unusable", 'host = "mail.example"\nport = 65536', 2),
    ("mail-port-unusable", 'host = "mail.example"\nport = true', 2),
    ("mail-security-unknown", 'host = "mail.example"\nsecurity = "ssl"', 2),
    ("mail-security-unknown", 'host = "mail.example"\nsecurity = false', 2),
    ("mail-security-none", 'host = "mail.example"\nsecurity = "none"', 2),
    ("mail-security-none", 'host = "192.0.2.1"\nsecurity = "none"', 2),
    ("mail-user-unusable", 'host = "mail.example"\nuser = ""', 2),
    ("mail-user-unusable", 'host = "mail.example"\nuser = "a\\u0000b"', 2),
    ("mail-user-unusable", 'host = "mail.example"\nuser = 7', 2),
    ("mail-pace-unreadable", 'host = "mail.example"\npace = "fast"', 2),
    ("mail-pace-unreadable", 'host = "mail.example"\npace = 30', 2),
    ("mail-connections-unusable", 'host = "mail.example"\nconnections = 17', 2),
    ("mail-connections-unusable", 'host = "mail.example"\nconnections = 1.5', 2),
]


@pytest.mark.parametrize(("code", "text", "line"), FAULTS)
def test_a_fault_names_its_line(code: str, text: str, line: int | None) -> None:
    settings, findings = read(text)

    assert settings is None
    assert [(one.code, one.file, one.line) for one in findings] == [(code, "mail.toml", line)]
    assert findings[0].mend


def test_every_fault_is_told_at_once() -> None:
    _, findings = read('hosst = "x"\nport = "a"\nsecurity = "b"\npace = "c"\nconnections = "d"\nuser = 1')

    assert {one.code for one in findings} == {
        "mail-key-unknown",
        "mail-host-missing",
        "mail-port-unusable",
        "mail-security-unknown",
        "mail-pace-unreadable",
        "mail-connections-unusable",
        "mail-user-unusable",
    }


def test_a_misspelt_key_gets_a_guess() -> None:
    _, findings = read('host = "mail.example"\nconections = 2')

    assert findings[0].mend == "did you mean connections?"


def test_a_password_is_never_shown() -> None:
    _, findings = read('host = "mail.example"\npassword = "hunter2"')

    assert "hunter2" not in str(findings[0])


@pytest.mark.parametrize("host", ["localhost", "127.0.0.1", "127.9.9.9", "::1", "[::1]"])
def test_no_protection_is_for_this_very_machine(host: str) -> None:
    assert read(f'host = "{host}"\nsecurity = "none"')[1] == ()
