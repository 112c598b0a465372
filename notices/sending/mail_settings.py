"""What mail.toml says of the lead's mail server; never a password."""

import difflib
import ipaddress
import re
import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal

import idna

from audiences.findings import Finding
from notices.cases.outgoing import Pace
from notices.sending import pace as paces

Security = Literal["starttls", "tls", "none"]

# RFC 6409 (587, submission), RFC 8314 section 3.3 (465, TLS from the first octet), RFC 5321 section 4.5.4.2 (25).
_PORTS: Mapping[Security, int] = {"starttls": 587, "tls": 465, "none": 25}
_HIGHEST_PORT = 65535
_MOST_CONNECTIONS = 16  # more only get refused by a small firm's server; common practice, no source
_KEYS = ("host", "port", "security", "user", "pace", "connections")
_PASSWORDS = frozenset(
    {"password", "passwd", "pass", "passphrase", "secret", "token", "kennwort", "passwort"}
)
_CONTROL = re.compile(r"[\x00-\x1f\x7f-\x9f\ud800-\udfff]")
_HOST = re.compile(
    r"(?=.{1,253}$)[a-z0-9_]([a-z0-9_-]{0,61}[a-z0-9])?(\.[a-z0-9_]([a-z0-9_-]{0,61}[a-z0-9])?)*\.?"
)

DEFAULT_PACE = Pace(text="30/min", gap=2.0)


@dataclass(frozen=True, kw_only=True, slots=True)
class MailSettings:
    """The mail server and how to use it; *host* in ASCII (IDNA 2008), *connections* at once."""

    host: str
    port: int
    security: Security = "starttls"
    user: str | None = None
    pace: Pace = DEFAULT_PACE
    connections: int = 1


@dataclass(slots=True)
class _Reading:
    """One file on its way to settings: its keys, its lines, and what was found."""

    text: str
    file: str
    found: Mapping[str, object]
    findings: list[Finding] = field(default_factory=list)

    def line(self, key: str) -> int | None:
        """Return the line on which a key or table stands."""
        form = re.compile(rf"\s*\[*\s*([\"']?){re.escape(key)}\1\s*[\].=]")
        return next((n for n, line in enumerate(self.text.split("\n"), 1) if form.match(line)), None)

    def whole(self, key: str, default: int, highest: int, complain: Callable[..., Finding]) -> int:
        """Return a whole number from 1 to *highest*, or the default beside a finding."""
        value = self.found.get(key, default)
        if isinstance(value, int) and not isinstance(value, bool) and 1 <= value <= highest:
            return value
        self.findings.append(
            complain(
                file=self.file,
                line=self.line(key),
                path=key,
                message=f"{value!a} is no whole number from 1 to {highest}",
                mend=f"write a number without quotes, from 1 to {highest}, or leave the line out for {default}",
            )
        )
        return default


def read(text: str, file: str = "mail.toml") -> tuple[MailSettings | None, tuple[Finding, ...]]:
    """Return the settings that *text* holds, or None beside every finding, each with its line."""
    try:
        found = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        return None, (_not_toml(fault, text, file),)
    reading = _Reading(text=text, file=file, found=found)
    reading.findings.extend(_unknown(reading))
    security = _security(reading)
    settings = MailSettings(
        host=_host(reading, security),
        security=security,
        port=reading.whole("port", _PORTS[security], _HIGHEST_PORT, _port_unusable),
        user=_user(reading),
        pace=_pace(reading),
        connections=reading.whole("connections", 1, _MOST_CONNECTIONS, _connections_unusable),
    )
    return (None if reading.findings else settings), tuple(reading.findings)


def is_loopback(host: str) -> bool:
    """Say whether *host* names this very machine: ``localhost``, 127.0.0.0/8 or ::1."""
    if host.rstrip(".") == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


def _not_toml(fault: tomllib.TOMLDecodeError, text: str, file: str) -> Finding:
    place = re.search(r"\(at line (\d+)", str(fault))
    return Finding(
        code="mail-not-toml",
        file=file,
        line=int(place[1]) if place else len(text.split("\n")),
        message="this line is not TOML",
        mend='write one setting a line, texts in quotes, as in host = "mail.example.org"; each key once',
    )


def _unknown(reading: _Reading) -> Iterator[Finding]:
    for key in reading.found:
        if key.lower() in _PASSWORDS:
            yield Finding(
                code="mail-password-in-file",
                file=reading.file,
                line=reading.line(key),
                path=ascii(key).strip("'"),
                message="a password does not belong in a file that is copied with the campaign",
                mend="take the line out, change the password, and give it by the environment or the keyring",
            )
        elif key not in _KEYS:
            close = difflib.get_close_matches(key.lower(), _KEYS, n=1)
            yield Finding(
                code="mail-key-unknown",
                file=reading.file,
                line=reading.line(key),
                path=ascii(key).strip("'"),
                message="this is no setting of the mail server",
                mend=f"did you mean {close[0]}?" if close else f"known are {', '.join(_KEYS)}",
            )


def _security(reading: _Reading) -> Security:
    value = reading.found.get("security", "starttls")
    if value == "starttls" or value == "tls" or value == "none":  # noqa: PLR1714 - so that mypy narrows
        return value
    reading.findings.append(
        Finding(
            code="mail-security-unknown",
            file=reading.file,
            line=reading.line("security"),
            path="security",
            message=f"{value!a} is no way to protect the connection",
            mend="write starttls (port 587), tls (port 465), or none for a server on this very machine",
        )
    )
    return "starttls"


def _host(reading: _Reading, security: Security) -> str:
    value = reading.found.get("host")
    if value is None:
        reading.findings.append(
            Finding(
                code="mail-host-missing",
                file=reading.file,
                path="host",
                message="no mail server is named",
                mend='write host = "…", the name your mail provider gives for outgoing mail',
            )
        )
        return ""
    host = _ascii_host(value)
    if host is None:
        reading.findings.append(
            Finding(
                code="mail-host-unusable",
                file=reading.file,
                line=reading.line("host"),
                path="host",
                message=f"{value!a} is no name or address of a server",
                mend="write the bare name, without https://, port or spaces, as in mail.example.org",
            )
        )
        return ""
    if security == "none" and not is_loopback(host):
        reading.findings.append(
            Finding(
                code="mail-security-none",
                file=reading.file,
                line=reading.line("security"),
                path="security",
                message=f"none would send owners' names and addresses to {host} for anyone to read",
                mend="write starttls or tls; none is for localhost, 127.0.0.1 or ::1 alone",
                source="RFC 8314 section 3",
            )
        )
    return host


def _ascii_host(value: object) -> str | None:
    if not isinstance(value, str):
        return None
    bare = value.strip().lower()
    try:
        return str(ipaddress.ip_address(bare.strip("[]")))
    except ValueError:
        pass
    try:
        name = bare if bare.isascii() else idna.encode(bare, uts46=True).decode("ascii")
    except (idna.IDNAError, UnicodeError):
        return None
    return name if _HOST.fullmatch(name) else None


def _user(reading: _Reading) -> str | None:
    value = reading.found.get("user")
    if value is None or (isinstance(value, str) and value and not _CONTROL.search(value)):
        return value
    reading.findings.append(
        Finding(
            code="mail-user-unusable",
            file=reading.file,
            line=reading.line("user"),
            path="user",
            message="the user name is empty, no text, or holds control characters",
            mend='write user = "…" as your provider gives it, or leave the line out where none is needed',
        )
    )
    return None


def _pace(reading: _Reading) -> Pace:
    value = reading.found.get("pace", DEFAULT_PACE.text)
    said = value if isinstance(value, str) else repr(value)
    pace = paces.parse(said, file=reading.file, line=reading.line("pace"))
    if isinstance(pace, Pace):
        return pace
    reading.findings.append(pace)
    return DEFAULT_PACE


def _port_unusable(*, file: str, line: int | None, path: str, message: str, mend: str) -> Finding:
    return Finding(code="mail-port-unusable", file=file, line=line, path=path, message=message, mend=mend)


def _connections_unusable(*, file: str, line: int | None, path: str, message: str, mend: str) -> Finding:
    return Finding(
        code="mail-connections-unusable", file=file, line=line, path=path, message=message, mend=mend
    )
