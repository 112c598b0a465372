"""The dialogue with a mail server, against servers that behave and servers that do not."""

import socket
import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from aiosmtpd.controller import Controller

from notices.cases.outgoing import Outcome, Parcel, WayOutError
from notices.sending import connecting, dialogue, smtp
from notices.sending.mail_settings import MailSettings
from notices.sending.smtp import SmtpLine, SmtpWay
from tests.mail_servers import DROP, Script, ScriptedServer, free_port

BODY = b"Subject: Stop\r\n\r\nDo not ride.\r\n"


def a_parcel(data: bytes = BODY, *, recipient: str = "anna@owner.example") -> Parcel:
    return Parcel(
        message_id="<p1@aldmere.example>", sender="safety@aldmere.example", recipient=recipient, data=data
    )


@contextmanager
def a_line(
    server: ScriptedServer, *, user: str | None = None, password: str | None = None
) -> Iterator[SmtpLine]:
    settings = MailSettings(host="127.0.0.1", port=server.port, security="none", user=user)
    line = SmtpWay(settings, password).open()
    yield line
    line.close()


def tried(script: Script, parcel: Parcel | None = None) -> tuple[Outcome, ScriptedServer]:
    """Return what became of one message under a script, and the server afterwards."""
    with ScriptedServer(script) as server, a_line(server) as line:
        return line.hand_over(parcel or a_parcel()), server


WITHOUT_PIPELINING = ("8BITMIME",)
BOTH = pytest.mark.parametrize("ehlo", [("PIPELINING",), WITHOUT_PIPELINING], ids=["pipelined", "one by one"])


@BOTH
def test_a_message_that_is_taken_is_handed_over_with_the_servers_word(ehlo: tuple[str, ...]) -> None:
    outcome, server = tried(Script(ehlo=ehlo))

    assert outcome == Outcome(result="handed_over", code=250, enhanced="2.0.0", reply="2.0.0 queued as 1A")
    assert server.messages == [BODY]


def test_the_commands_go_together_where_the_server_offers_pipelining() -> None:
    _, server = tried(Script(ehlo=("PIPELINING", "SIZE 5000")))

    assert server.commands[1:4] == [
        f"MAIL FROM:<safety@aldmere.example> SIZE={len(BODY)}",
        "RCPT TO:<anna@owner.example>",
        "DATA",
    ]


# RFC 5321 section 4.5.2: a line that begins with a dot gets one more, and loses it on the other side.
@pytest.mark.parametrize(
    ("data", "on_the_line"),
    [
        (b".a\r\n..\r\n.\r\nend\r\n", b"..a\r\n...\r\n..\r\nend\r\n"),
        (b"a.b\r\n. \r\n", b"a.b\r\n.. \r\n"),
        (b".\r\n", b"..\r\n"),
    ],
)
def test_dots_at_line_starts_are_doubled(data: bytes, on_the_line: bytes) -> None:
    outcome, server = tried(Script(), a_parcel(data))

    assert outcome.result == "handed_over"
    assert server.messages == [on_the_line]


def test_a_message_of_many_blocks_arrives_whole() -> None:
    data = b".0123456789 abcdefgh\r\n" * 40_000
    outcome, server = tried(Script(), a_parcel(data))

    assert outcome.result == "handed_over"
    assert server.messages == [data.replace(b".0", b"..0")]


# Codes: RFC 5321 section 4.2.3. Classes: RFC 3463 section 3. Credentials: RFC 4954 section 6.
@BOTH
@pytest.mark.parametrize(
    ("place", "reply", "result", "enhanced"),
    [
        ("rcpt", "550 5.1.1 no such user", "refused", "5.1.1"),
        ("rcpt", "554 5.7.1 policy", "refused", "5.7.1"),
        ("rcpt", "452 4.2.2 full", "later", "4.2.2"),
        ("rcpt", "451 slow down", "later", None),
        ("rcpt", "530 5.7.0 authentication required", "stop", "5.7.0"),
        ("data", "451 4.3.0 not now", "later", "4.3.0"),
        ("data", "554 5.5.1 no valid recipients", "refused", "5.5.1"),
        ("final", "452 4.3.1 no room", "later", "4.3.1"),
        ("final", "554 5.6.0 not that", "refused", "5.6.0"),
        ("final", "550 4.7.1 the classes differ", "refused", None),
        ("final", "421 4.3.2 going down", "later", "4.3.2"),
        ("mail", "450 4.1.8 sender's domain not found", "later", "4.1.8"),
        ("mail", "552 5.3.4 too big", "refused", "5.3.4"),
        ("mail", "553 5.7.1 not your address", "stop", "5.7.1"),
        ("mail", "535 5.7.8 signed out", "stop", "5.7.8"),
    ],
)
def test_a_refusal_is_judged_by_its_code(
    ehlo: tuple[str, ...], place: str, reply: str, result: str, enhanced: str | None
) -> None:
    changes: dict[str, Any] = {place: reply}
    outcome, _ = tried(Script(ehlo=ehlo, **changes))

    assert (outcome.result, outcome.code, outcome.enhanced) == (result, int(reply[:3]), enhanced)


@BOTH
def test_the_next_message_goes_after_a_refused_one_on_the_same_connection(ehlo: tuple[str, ...]) -> None:
    script = Script(
        ehlo=ehlo,
        rcpt=("550 5.1.1 no", "250 2.1.5 fine"),
        data=("503 no", "354 go on")[1 - ("PIPELINING" in ehlo) :],
    )
    with ScriptedServer(script) as server, a_line(server) as line:
        outcomes = [line.hand_over(a_parcel()).result for _ in range(2)]

    assert outcomes == ["refused", "handed_over"]
    assert (server.connections, server.messages) == (1, [BODY])


def test_a_354_after_a_refused_recipient_is_ended_with_a_lone_dot() -> None:
    # RFC 2920 section 3.1
    script = Script(rcpt=("550 5.1.1 no", "250 fine"), final=("554 5.5.1 no recipients", "250 2.0.0 fine"))
    with ScriptedServer(script) as server, a_line(server) as line:
        outcomes = [line.hand_over(a_parcel()) for _ in range(2)]

    assert [(one.result, one.enhanced) for one in outcomes] == [
        ("refused", "5.1.1"),
        ("handed_over", "2.0.0"),
    ]
    assert server.messages == [b"", BODY]


@BOTH
@pytest.mark.parametrize("place", ["mail", "rcpt", "data"])
def test_a_connection_lost_before_the_message_leaves_it_waiting(ehlo: tuple[str, ...], place: str) -> None:
    changes: dict[str, Any] = {place: DROP}
    outcome, server = tried(Script(ehlo=ehlo, **changes))

    assert (outcome.result, outcome.code, server.messages) == ("later", None, [])


def test_a_connection_lost_in_the_middle_of_the_message_leaves_it_waiting() -> None:
    # So long that the server is gone before the last of it can have been written.
    outcome, _ = tried(
        Script(body_limit=1000), a_parcel(b"x" * 70 + b"\r\n" + (b"z" * 900 + b"\r\n") * 40_000)
    )

    assert (outcome.result, outcome.code) == ("later", None)


@pytest.mark.parametrize("final", [DROP, "what?", "354 more"])
def test_an_answer_lost_after_the_final_dot_is_in_doubt(final: str) -> None:
    outcome, server = tried(Script(final=final))

    assert (outcome.result, outcome.code) == ("in_doubt", None)
    assert server.messages == [BODY]


def test_silence_after_the_final_dot_is_in_doubt(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("notices.sending.dialogue._FINAL_SECONDS", 0.2)
    with _silent_after_the_dot() as port:
        line = SmtpWay(MailSettings(host="127.0.0.1", port=port, security="none"), None).open()
        outcome = line.hand_over(a_parcel())
        line.close()

    assert outcome.result == "in_doubt"


@contextmanager
def _silent_after_the_dot() -> Iterator[int]:
    with ScriptedServer(Script(final="250 2.0.0 late")) as server:
        speak = server._say  # noqa: SLF001 - the script knows no silence

        def say(stream: Any, what: str, reply: Any) -> str:  # noqa: ANN401 - as the server's own
            if what == "final":
                time.sleep(1)
            return speak(stream, what, reply)

        server._say = say  # type: ignore[method-assign] # noqa: SLF001 - the same
        yield server.port


def test_the_time_outs_are_those_of_the_standard() -> None:
    # RFC 5321 section 4.5.3.2, minutes: greeting 5, MAIL and RCPT 5, DATA 2, a block 3, the final answer 10.
    minutes = [
        connecting.GREETING_SECONDS,
        connecting.COMMAND_SECONDS,
        dialogue._DATA_SECONDS,  # noqa: SLF001 - a standard's number
        dialogue._BLOCK_SECONDS,  # noqa: SLF001 - the same
        dialogue._FINAL_SECONDS,  # noqa: SLF001 - the same
    ]

    assert minutes == [300, 300, 120, 180, 600]


@BOTH
def test_a_server_that_hung_up_between_two_messages_costs_no_try(ehlo: tuple[str, ...]) -> None:
    with (
        ScriptedServer(Script(ehlo=ehlo, mail=("250 fine", DROP, "250 fine"))) as server,
        a_line(server) as line,
    ):
        outcomes = [line.hand_over(a_parcel()).result for _ in range(2)]

    assert outcomes == ["handed_over", "handed_over"]
    assert (server.connections, server.messages) == (2, [BODY, BODY])


def test_a_server_that_takes_few_messages_a_connection_is_called_again() -> None:
    with (
        ScriptedServer(Script(mail=("250 fine", "421 4.7.0 enough", "250 fine"))) as server,
        a_line(server) as line,
    ):
        outcomes = [line.hand_over(a_parcel()).result for _ in range(2)]

    assert outcomes == ["handed_over", "handed_over"]
    assert server.connections == 2


def test_an_idle_connection_is_asked_before_it_is_used(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(smtp, "_IDLE_SECONDS", -1.0)
    with ScriptedServer() as server, a_line(server) as line:
        line.hand_over(a_parcel())

    assert "NOOP" in server.commands[1].upper()


@pytest.mark.parametrize("ehlo", [(), ("PIPELINING",)])
@pytest.mark.parametrize("place", ["mail", "rcpt"])
def test_the_reason_of_a_server_that_hangs_up_with_421_is_kept(place: str, ehlo: tuple[str, ...]) -> None:
    changes: dict[str, Any] = {place: "421 4.3.2 going down"}
    outcome, _ = tried(Script(ehlo=ehlo, **changes))

    assert outcome == Outcome(result="later", code=421, enhanced="4.3.2", reply="4.3.2 going down")


def test_nothing_is_sent_after_421() -> None:
    outcome, server = tried(Script(rcpt="421 4.3.2 going down"))

    assert outcome.result == "later"
    assert "QUIT" not in server.verbs()


@pytest.mark.parametrize("quit_", [DROP, "500 5.5.1 what?", "nonsense"])
def test_what_is_answered_to_quit_means_nothing(quit_: str) -> None:
    outcome, _ = tried(Script(quit=quit_))

    assert outcome.result == "handed_over"


HOSTILE = [
    "anna@owner.example>\r\nRCPT TO:<eve@evil.example",
    "anna@owner.example\nDATA",
    "anna owner@owner.example",
    "anna@owner.example\0",
    "<anna@owner.example>",
    "anna",
    "",
    f"{'a' * 65}@owner.example",
    f"a@{'b' * 254}",
]


@pytest.mark.parametrize("recipient", HOSTILE)
def test_no_address_becomes_a_command(recipient: str) -> None:
    outcome, server = tried(Script(), a_parcel(recipient=recipient))

    assert (outcome.result, outcome.enhanced) == ("refused", "5.1.3")
    assert "MAIL" not in server.verbs()


def test_a_local_part_beyond_ascii_is_refused_and_not_guessed_at() -> None:
    outcome, server = tried(Script(ehlo=("SMTPUTF8",)), a_parcel(recipient="jörg@owner.example"))

    assert (outcome.result, outcome.enhanced) == ("refused", "5.6.7")
    assert "MAIL" not in server.verbs()


# A lone CR or LF before a dot could end the message for one server and not for the next: SMTP smuggling.
@pytest.mark.parametrize(
    "data", [b"a\n.\r\n", b"a\r.\r\n", b"a\r\n.\n", b"a", b"", b"\r\r\n", b"x" * 999 + b"\r\n"]
)
def test_a_message_with_other_line_ends_or_too_long_lines_is_not_sent(data: bytes) -> None:
    outcome, server = tried(Script(), a_parcel(data))

    assert (outcome.result, outcome.enhanced) == ("refused", "5.6.0")
    assert "MAIL" not in server.verbs()


def test_a_line_of_998_octets_goes() -> None:
    # RFC 5322 section 2.1.1
    assert tried(Script(), a_parcel(b"x" * 998 + b"\r\n"))[0].result == "handed_over"


def test_a_message_over_the_servers_size_is_not_sent_and_is_no_address_fault() -> None:
    outcome, server = tried(Script(ehlo=("SIZE 10",)))

    assert (outcome.result, outcome.enhanced) == ("refused", "5.3.4")
    assert "MAIL" not in server.verbs()


def test_eight_bit_text_needs_a_server_that_takes_it() -> None:
    eight_bit = a_parcel("Grüße\r\n".encode())

    refused, _ = tried(Script(ehlo=("PIPELINING",)), eight_bit)
    taken, server = tried(Script(ehlo=("8BITMIME",)), eight_bit)

    assert (refused.enhanced, taken.result) == ("5.6.3", "handed_over")
    assert server.commands[1].endswith(" BODY=8BITMIME")


def test_a_wrong_password_is_tried_once_and_said() -> None:
    script = Script(ehlo=("AUTH CRAM-MD5 PLAIN LOGIN",), auth="535 5.7.8 no")
    with ScriptedServer(script) as server:
        settings = MailSettings(host="127.0.0.1", port=server.port, security="none", user="safety")
        with pytest.raises(WayOutError, match="does not accept this user and password") as caught:
            SmtpWay(settings, "hunter2").open()

    assert not caught.value.temporary
    assert server.verbs().count("AUTH") == 1
    assert "hunter2" not in str(caught.value)


def test_a_password_check_that_is_down_may_be_tried_later() -> None:
    # RFC 4954 section 6: 454 temporary authentication failure
    with ScriptedServer(Script(ehlo=("AUTH PLAIN",), auth="454 4.7.0 try later")) as server:
        settings = MailSettings(host="127.0.0.1", port=server.port, security="none", user="safety")
        with pytest.raises(WayOutError) as caught:
            SmtpWay(settings, "x").open()

    assert caught.value.temporary


SHARP_S = "ß"


def test_plain_speaks_utf_8() -> None:
    # RFC 4616 section 2: authcid and passwd are UTF-8
    with (
        ScriptedServer(Script(ehlo=("AUTH PLAIN",))) as server,
        a_line(server, user="jörg", password=SHARP_S),
    ):
        pass

    assert server.commands[1] == "AUTH PLAIN AGrDtnJnAMOf"


def test_login_is_used_where_nothing_else_is_offered() -> None:
    with ScriptedServer(Script(ehlo=("AUTH LOGIN",), auth="334 VXNlcm5hbWU6")) as server:
        settings = MailSettings(host="127.0.0.1", port=server.port, security="none", user="safety")
        with pytest.raises(WayOutError):  # the script lets nobody in; what was said is what counts
            SmtpWay(settings, "pw").open()

    assert server.commands[1:3] == ["AUTH LOGIN", "c2FmZXR5"]


@pytest.mark.parametrize(
    ("ehlo", "password", "says"),
    [
        (("AUTH CRAM-MD5",), "pw", "no way to sign in"),
        ((), "pw", "no way to sign in"),
        (("AUTH PLAIN",), None, "no password"),
    ],
)
def test_what_hinders_signing_in_is_said(ehlo: tuple[str, ...], password: str | None, says: str) -> None:
    with ScriptedServer(Script(ehlo=ehlo)) as server:
        settings = MailSettings(host="127.0.0.1", port=server.port, security="none", user="safety")
        with pytest.raises(WayOutError, match=says) as caught:
            SmtpWay(settings, password).open()

    assert not caught.value.temporary


@pytest.mark.parametrize(
    ("greeting", "temporary"),
    [("421 4.3.2 busy", True), ("554 5.3.2 no mail here", False), (DROP, True), ("hello", True)],
)
def test_a_server_that_does_not_greet_is_said(greeting: str, *, temporary: bool) -> None:
    with ScriptedServer(Script(greeting=greeting)) as server, pytest.raises(WayOutError) as caught:
        SmtpWay(MailSettings(host="127.0.0.1", port=server.port, security="none"), None).open()

    assert caught.value.temporary is temporary


def test_a_server_that_is_not_there_is_said() -> None:
    with pytest.raises(WayOutError, match="cannot be reached") as caught:
        SmtpWay(MailSettings(host="127.0.0.1", port=free_port(), security="none"), None).open()

    assert caught.value.temporary


def test_a_name_that_nobody_knows_is_said() -> None:
    # RFC 6761 section 6.4: .invalid never resolves
    with pytest.raises(WayOutError, match="is not known here"):
        SmtpWay(MailSettings(host="mail.invalid", port=25, security="tls"), None).open()


class _Elsewhere(socket.socket):
    """A connection whose other end is on another machine (address: RFC 5737)."""

    def getpeername(self) -> tuple[str, int]:
        return ("192.0.2.1", 25)


def test_nothing_goes_in_the_clear_to_another_machine_whatever_the_name_resolved_to() -> None:
    with _Elsewhere() as opened, pytest.raises(WayOutError, match="this very machine"):
        connecting.only_this_machine(opened)


def test_a_mail_server_does_not_tell_what_it_has_taken() -> None:
    assert (
        SmtpWay(MailSettings(host="127.0.0.1", port=1, security="none"), None).has("<p1@aldmere.example>")
        is None
    )


class _Keeps:
    """A handler of aiosmtpd that keeps what it is given."""

    def __init__(self) -> None:
        self.kept: list[tuple[str, list[str], bytes]] = []

    async def handle_DATA(self, _server: Any, _session: Any, envelope: Any) -> str:  # noqa: ANN401, N802 - aiosmtpd's names and untyped values
        self.kept.append((envelope.mail_from, envelope.rcpt_tos, envelope.original_content))
        return "250 2.0.0 kept"


def test_a_server_of_another_make_gets_the_very_bytes() -> None:
    handler = _Keeps()
    controller = Controller(handler, hostname="127.0.0.1", port=free_port())
    controller.start()
    data = b"Subject: x\r\n\r\n.dot\r\n..two\r\n.\r\n" + b"last\r\n"
    line = SmtpWay(MailSettings(host="127.0.0.1", port=controller.port, security="none"), None).open()
    outcome = line.hand_over(a_parcel(data))
    line.close()
    controller.stop()

    assert outcome == Outcome(result="handed_over", code=250, enhanced="2.0.0", reply="2.0.0 kept")
    assert handler.kept == [("safety@aldmere.example", ["anna@owner.example"], data)]
