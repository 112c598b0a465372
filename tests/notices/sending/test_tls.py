"""Protected connections, with an authority made for the test: nothing is believed that it did not sign."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from aiosmtpd.controller import Controller
from aiosmtpd.smtp import AuthResult, LoginPassword

from notices.cases.outgoing import Parcel, WayOutError
from notices.sending.mail_settings import MailSettings
from notices.sending.smtp import SmtpWay
from tests.mail_servers import Authority, Script, ScriptedServer, an_authority, free_port

RIGHT = "right"
PARCEL = Parcel(
    message_id="<p1@aldmere.example>",
    sender="safety@aldmere.example",
    recipient="anna@owner.example",
    data=b"Subject: Stop\r\n\r\nDo not ride.\r\n",
)


class _Keeps:
    def __init__(self) -> None:
        self.kept: list[bytes] = []

    async def handle_DATA(self, _server: Any, _session: Any, envelope: Any) -> str:  # noqa: ANN401, N802 - aiosmtpd's names and untyped values
        self.kept.append(envelope.original_content)
        return "250 2.0.0 kept"


def _lets_in(*asked: Any) -> AuthResult:  # noqa: ANN401 - aiosmtpd is untyped
    given = asked[-1]
    assert isinstance(given, LoginPassword)

    return AuthResult(success=(given.login, given.password) == (b"safety", b"right"), handled=False)


@pytest.fixture(scope="module")
def authority(tmp_path_factory: pytest.TempPathFactory) -> Authority:
    return an_authority(tmp_path_factory.mktemp("authority"))


@pytest.fixture(params=["starttls", "tls"])
def server(request: pytest.FixtureRequest, authority: Authority) -> Iterator[tuple[str, Controller]]:
    context = authority.context()
    secured: dict[str, Any] = (
        {"tls_context": context, "require_starttls": True, "auth_required": True}
        if request.param == "starttls"
        # aiosmtpd does not see that a connection begun in TLS is protected
        else {"ssl_context": context, "auth_require_tls": False}
    )
    controller = Controller(
        _Keeps(), hostname="localhost", port=free_port(), authenticator=_lets_in, **secured
    )
    controller.start()
    yield request.param, controller
    controller.stop()


def _way(kind: str, port: int, password: str = RIGHT, host: str = "localhost") -> SmtpWay:
    security: Any = kind
    return SmtpWay(MailSettings(host=host, port=port, security=security, user="safety"), password)


def test_a_message_goes_over_tls_with_a_password(
    server: tuple[str, Controller], authority: Authority, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SSL_CERT_FILE", str(authority.root))
    kind, controller = server
    line = _way(kind, controller.port).open()
    outcome = line.hand_over(PARCEL)
    line.close()

    assert outcome.result == "handed_over"
    assert controller.handler.kept == [PARCEL.data]


def test_a_wrong_password_is_no_temporary_fault(
    server: tuple[str, Controller], authority: Authority, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SSL_CERT_FILE", str(authority.root))
    kind, controller = server
    with pytest.raises(WayOutError, match=r"does not accept .* \(535 5\.7\.8") as caught:
        _way(kind, controller.port, "wrong").open()

    assert not caught.value.temporary


def test_a_certificate_of_an_unknown_authority_is_not_believed(server: tuple[str, Controller]) -> None:
    kind, controller = server
    with pytest.raises(WayOutError, match="certificate that cannot be trusted") as caught:
        _way(kind, controller.port).open()

    assert not caught.value.temporary


def test_a_certificate_for_another_name_is_not_believed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = an_authority(tmp_path, name="DNS:mail.aldmere.example")
    monkeypatch.setenv("SSL_CERT_FILE", str(other.root))
    controller = Controller(_Keeps(), hostname="localhost", port=free_port(), tls_context=other.context())
    controller.start()
    try:
        with pytest.raises(WayOutError, match="certificate that cannot be trusted"):
            _way("starttls", controller.port).open()
    finally:
        controller.stop()


def test_a_server_without_starttls_is_never_spoken_to_in_the_clear() -> None:
    script = Script(ehlo=("AUTH PLAIN",))
    with ScriptedServer(script) as plain, pytest.raises(WayOutError, match="does not offer STARTTLS"):
        _way("starttls", plain.port, host="127.0.0.1").open()

    assert plain.verbs() == ["EHLO"]


def test_a_server_that_speaks_no_tls_on_its_port_is_said() -> None:
    with ScriptedServer() as plain, pytest.raises(WayOutError, match="does not speak TLS"):
        _way("tls", plain.port, host="127.0.0.1").open()
