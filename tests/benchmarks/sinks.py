"""Postfix's smtp-sink, which takes every message at once, and a register full of messages to send."""

import os
import shutil
import socket
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from notices import assembly
from notices.cases.outgoing import Pace
from notices.cases.records import PostingState
from notices.sending.mail_settings import MailSettings
from notices.sending.smtp import SmtpWay
from notices.settings import Settings
from notices.work import posting, signing
from notices.work.dispatching import Sender, dispatch
from notices.work.sending import Sent
from tests import needs
from tests.benchmarks import lists
from tests.folders import RECALLED
from tests.mail_servers import free_port

_NO_GAP = Pace(text="none", gap=0.0)


@contextmanager
def sink(*, into: Path | None = None) -> Iterator[int]:
    """Yield the port of a sink; *into* names a folder that keeps every message it takes."""
    command = needs.command("smtp-sink", debian="postfix")
    port = free_port()
    words = ["-u", "nobody"] if os.geteuid() == 0 else []
    if into is not None:
        into.chmod(0o777)
        words += ["-d", f"{into}/%M."]
    with subprocess.Popen([command, *words, f"127.0.0.1:{port}", "200"]) as process:
        try:
            _wait_for(port)
            yield port
        finally:
            process.terminate()


def _wait_for(port: int) -> None:
    for _ in range(200):
        with suppress(OSError), socket.create_connection(("127.0.0.1", port), 1):
            return
        time.sleep(0.02)
    raise TimeoutError("smtp-sink does not answer")


def messages(folder: Path) -> list[bytes]:
    """Return the messages that a sink kept, with LF line ends, without its own notes above each and Received."""
    found = []
    for file in sorted(folder.iterdir()):
        lines = file.read_bytes().replace(b"\r\n", b"\n").split(b"\n")
        while lines and (lines[0].startswith((b"X-", b"Received:", b"\t"))):
            del lines[0]
        found.append(b"\n".join(lines).rstrip(b"\n"))
    return found


def outbox(folder: Path, count: int) -> Path:
    """Fill a campaign folder: a list taken in, the recall signed, about *count* messages waiting.

    Half of the units are cleared by their code, and need no message.
    """
    with lists.a_world(folder) as world:
        lists.take(world, lists.a_list(2 * count))
        signed = signing.sign(world, by="Ines Hall", unread_too=True)
        assert signed.adopted, signed
        made = posting.prepare(world)
        assert made.made, made
    return folder


def copied(outbox: Path, to: Path) -> Path:
    """Copy a campaign folder, so that its messages can be sent again."""
    shutil.copytree(outbox, to)
    return to


def send(folder: Path, port: int, *, connections: int) -> Sent:
    """Send what waits in a folder, as the command does: each try durable, events and cases with it."""
    way = SmtpWay(MailSettings(host="127.0.0.1", port=port, security="none", connections=connections), None)
    sender = Sender(worker="bench:1:1", gone=lambda _worker: False, sleep=time.sleep, halted=lambda: None)
    with assembly.opened(folder, Settings(), now=lambda: RECALLED) as world:
        return dispatch(world, way, sender, by="Ines Hall", pace=_NO_GAP, connections=connections)


def standing(folder: Path) -> tuple[set[str], int, int, int]:
    """Return the Message-IDs handed over, and how many tries ended, events of it and cases there are."""
    with assembly.opened(folder, Settings(), now=lambda: RECALLED) as world, world.register.look() as tx:
        done = list(tx.outbox.postings(state=PostingState.HANDED_OVER))
        tries = sum(one.outcome == "handed_over" for one in tx.record.tries())
        events = sum(
            event.kind == "notice_handed_over" for some in tx.events.streams("unit:") for event in some
        )
        live = sum(row.case.live for row in tx.cases.all())
    return {one.message_id for one in done}, tries, events, live
