"""A connection to the lead's mail server, protected and signed in; or a sentence that says what to do."""

import base64
import ipaddress
import smtplib
import socket
import ssl
from collections.abc import Callable

from notices.cases.outgoing import WayOutError
from notices.sending.keyrings import service
from notices.sending.mail_settings import MailSettings
from notices.sending.replies import refused

# RFC 5321 section 4.5.3.2: how long a client waits at least.
GREETING_SECONDS = 300.0
COMMAND_SECONDS = 300.0
# A server that does not answer the call itself is down or a wrong name: no need to wait five minutes for that.
_CONNECT_SECONDS = 30.0

_CHALLENGE = 334
_SIGNED_IN = 235
_READY = 220


class Connection(smtplib.SMTP):
    """The standard library's SMTP session over a socket that we open ourselves."""

    def __init__(self, settings: MailSettings, context: ssl.SSLContext) -> None:
        """Open the session up to the server's greeting."""
        self._settings = settings
        self._context = context
        super().__init__(timeout=GREETING_SECONDS)
        self._host = settings.host  # the standard library's own name for what STARTTLS checks
        code, reply = self.connect(settings.host, settings.port)
        if code != _READY:
            self.close()
            raise smtplib.SMTPConnectError(code, reply)

    def _get_socket(self, host: str, port: int, timeout: float) -> socket.socket:
        """Call the server; TLS from the first octet where the settings say so (RFC 8314)."""
        opened = socket.create_connection((host, port), min(timeout, _CONNECT_SECONDS))
        try:
            if self._settings.security == "none":
                only_this_machine(opened)
            opened.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)  # our small commands are not to wait
            if self._settings.security == "tls":
                opened = self._context.wrap_socket(opened, server_hostname=host)
            opened.settimeout(timeout)
        except BaseException:
            opened.close()
            raise
        return opened

    def wait_at_most(self, seconds: float) -> None:
        """Set how long each single write and read may take from here on."""
        if self.sock is not None:
            self.sock.settimeout(seconds)


def connect(settings: MailSettings, password: str | None) -> Connection:
    """Open, protect and sign in; raise WayOutError, temporary where trying again later is enough.

    The certificate is checked against the system's authorities and the server's name (RFC 9525); nothing is
    ever said in the clear to another machine.
    """
    context = ssl.create_default_context()
    try:
        connection = Connection(settings, context)
    except (OSError, smtplib.SMTPException) as fault:
        raise _unreachable(settings, fault) from fault
    try:
        _greet(connection, settings, context)
        if settings.user is not None:
            _sign_in(connection, settings.user, password, settings)
    except (OSError, smtplib.SMTPException) as fault:
        connection.close()
        raise _unreachable(settings, fault) from fault
    except WayOutError:
        connection.close()
        raise
    connection.timeout = COMMAND_SECONDS
    return connection


def _greet(connection: Connection, settings: MailSettings, context: ssl.SSLContext) -> None:
    connection.ehlo_or_helo_if_needed()
    if settings.security != "starttls":
        return
    if not connection.has_extn("starttls"):
        raise WayOutError(
            f"{settings.host}:{settings.port} does not offer STARTTLS, and nothing is sent in the clear; "
            'write security = "tls" and port = 465 in mail.toml, or ask the provider'
        )
    code, reply = connection.starttls(context=context)
    if code != _READY:
        raise smtplib.SMTPResponseException(code, reply)
    connection.ehlo()


def only_this_machine(opened: socket.socket) -> None:
    """Hold ``security = "none"`` to its word, whatever the name resolved to."""
    peer = ipaddress.ip_address(str(opened.getpeername()[0]).partition("%")[0])
    if not peer.is_loopback:
        raise WayOutError(
            'security = "none" is for a mail server on this very machine, and this one is not; '
            "write starttls or tls in mail.toml"
        )


def _sign_in(connection: Connection, user: str, password: str | None, settings: MailSettings) -> None:
    """Try one mechanism, once: a wrong password tried thrice may lock the mailbox."""
    if password is None:
        raise WayOutError(
            f"mail.toml names the user {user!a} but no password was given; give it by NOTICES_MAIL_PASSWORD, or "
            f"by the keyring: pip install 'notices[keyring]', then keyring set {service(settings)} {user!a}"
        )
    offered = connection.esmtp_features.get("auth", "").upper().split()
    for name, sign_in in _MECHANISMS.items():
        if name in offered:
            _judge_sign_in(*sign_in(connection, user, password), settings)
            return
    raise WayOutError(
        f"{settings.host} offers no way to sign in that this program knows (PLAIN, LOGIN); "
        "take the user line out of mail.toml where none is needed, or ask the provider"
    )


def _judge_sign_in(code: int, reply: bytes, settings: MailSettings) -> None:
    if code == _SIGNED_IN:
        return
    outcome = refused(code, reply)
    if outcome.result == "later":
        raise WayOutError(
            f"{settings.host} cannot check the password just now ({code} {outcome.reply})", temporary=True
        )
    raise WayOutError(
        f"{settings.host} does not accept this user and password ({code} {outcome.reply}); "
        "correct them before the next try, for repeated wrong ones may lock the mailbox"
    )


def _plain(connection: Connection, user: str, password: str) -> tuple[int, bytes]:
    """Sign in by RFC 4616; unlike the standard library's, in UTF-8."""
    return connection.docmd("AUTH", "PLAIN " + _base64(f"\0{user}\0{password}"))


def _login(connection: Connection, user: str, password: str) -> tuple[int, bytes]:
    """Sign in by LOGIN, which is no standard but what some servers offer alone."""
    code, reply = connection.docmd("AUTH", "LOGIN")
    for answer in (user, password):
        if code != _CHALLENGE:
            break
        code, reply = connection.docmd(_base64(answer))
    return code, reply


_MECHANISMS: dict[str, Callable[[Connection, str, str], tuple[int, bytes]]] = {
    "PLAIN": _plain,
    "LOGIN": _login,
}


def _base64(text: str) -> str:
    return base64.b64encode(text.encode("utf-8", "surrogatepass")).decode("ascii")


def _unreachable(settings: MailSettings, fault: OSError | smtplib.SMTPException) -> WayOutError:
    """Say in one sentence what became of the call, and whether waiting may help."""
    place = f"{settings.host}:{settings.port}"
    if isinstance(fault, ssl.SSLCertVerificationError):
        return WayOutError(
            f"{place} shows a certificate that cannot be trusted ({fault.verify_message}); check the host in "
            "mail.toml, or let SSL_CERT_FILE name your own authority's certificate"
        )
    if isinstance(fault, ssl.SSLError):
        return WayOutError(
            f"{place} does not speak TLS as mail.toml says; starttls goes with port 587, tls with 465"
        )
    if isinstance(fault, socket.gaierror):
        return WayOutError(
            f"the name {settings.host} is not known here; check host in mail.toml and the network",
            temporary=True,
        )
    if isinstance(fault, smtplib.SMTPResponseException):
        outcome = refused(fault.smtp_code, fault.smtp_error)
        return WayOutError(
            f"{place} turns us away ({fault.smtp_code} {outcome.reply})",
            temporary=outcome.result == "later",
        )
    return WayOutError(
        f"{place} cannot be reached ({type(fault).__name__}); check host and port in mail.toml, and the network",
        temporary=True,
    )
