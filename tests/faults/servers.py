"""Mail servers that misbehave: each ends the command in one line, with its exit status, and hammers nobody."""

import os
import subprocess
import sys
from collections import Counter
from collections.abc import Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path

from notices.cases.records import PostingState
from notices.store import open_register
from tests.faults.outboxes import BEGAN, Outbox, copied, prepared
from tests.mail_servers import DROP, Script, ScriptedServer, free_port
from tests.source import ROOT

SIZE = 30
_WORLD = 2  # the exit status where something outside is wrong
_DONE = 0
_SIGN_IN = ("PIPELINING", "8BITMIME", "AUTH PLAIN LOGIN")


@dataclass(frozen=True, kw_only=True, slots=True)
class Case:
    """One server: what it says, how the command is to end, and how much it may hear at most.

    *says* stands in the one line of complaint, empty where there is to be none; *states* where the postings then
    stand; *heard* how often a word (``connect`` for a connection) may have been heard.
    """

    name: str
    script: Script | None
    status: int
    says: str
    states: Mapping[PostingState, int]
    heard: Mapping[str, int]
    connections: int = 1
    user: str = ""


CASES: tuple[Case, ...] = (
    Case(
        name="wrong password",
        script=Script(ehlo=_SIGN_IN, auth="535 5.7.8 no"),
        status=_WORLD,
        says="does not accept this user and password (535 5.7.8 no)",
        states={PostingState.WAITING: SIZE},
        heard={"connect": 1, "AUTH": 1, "MAIL": 0},
        connections=4,
        user="safety@aldmere.example",
    ),
    Case(
        name="refuses every recipient",
        script=Script(rcpt="554 5.7.1 policy", data="554 5.5.1 no valid recipients"),
        status=_WORLD,
        says="10 messages in a row were refused, and not for their addresses: 554 5.7.1 policy",
        states={PostingState.REFUSED: 10, PostingState.WAITING: SIZE - 10},
        heard={"connect": 1, "MAIL": 10},
    ),
    Case(
        name="closes at its greeting",
        script=Script(greeting=DROP),
        status=_WORLD,
        says="cannot be reached (SMTPServerDisconnected)",
        states={PostingState.WAITING: SIZE},
        heard={"connect": 1, "MAIL": 0},
    ),
    Case(
        name="421 at its greeting",
        script=Script(greeting="421 4.3.2 not now"),
        status=_WORLD,
        says="turns us away (421 4.3.2 not now)",
        states={PostingState.WAITING: SIZE},
        heard={"connect": 1, "MAIL": 0},
    ),
    Case(
        name="421 to every MAIL",
        script=Script(mail="421 4.3.2 closing"),
        status=_WORLD,
        says="the connection was lost 5 times in a row: 421 4.3.2 closing",
        states={PostingState.WAITING: SIZE},
        heard={"connect": 6, "MAIL": 5},
    ),
    Case(
        name="nobody listens",
        script=None,
        status=_WORLD,
        says="cannot be reached (ConnectionRefusedError)",
        states={PostingState.WAITING: SIZE},
        heard={},
    ),
    Case(
        name="slow to answer",
        script=Script(pause=0.03),
        status=_DONE,
        says="",
        states={PostingState.HANDED_OVER: SIZE},
        heard={"connect": 4, "MAIL": SIZE},
        connections=4,
    ),
)

QUICK = tuple(
    case for case in CASES if case.name in {"wrong password", "closes at its greeting", "slow to answer"}
)


@dataclass(kw_only=True)
class Ended:
    """How the command ended with one server."""

    case: Case
    status: int = 0
    line: str = ""
    states: Mapping[PostingState, int] = field(default_factory=dict)
    heard: Counter[str] = field(default_factory=Counter)
    broken: list[str] = field(default_factory=list)


def run(cases: Sequence[Case], folder: Path) -> list[Ended]:
    """Type the command once for each server."""
    whole = prepared(folder / "whole", SIZE)
    with ThreadPoolExecutor(max_workers=2) as pool:
        return list(
            pool.map(lambda pair: _one(pair[1], whole, folder / f"server-{pair[0]}"), enumerate(cases))
        )


def _one(case: Case, whole: Outbox, folder: Path) -> Ended:
    ended = Ended(case=case)
    with copied(whole, folder) as outbox:
        if case.script is None:
            said = _type(case, outbox, free_port())
        else:
            with ScriptedServer(case.script) as server:
                said = _type(case, outbox, server.port)
                ended.heard = Counter([*server.verbs(), *["connect"] * server.connections])
        _look(ended, outbox)
    ended.status = said.returncode
    ended.line = said.stderr.strip()
    _judge(ended)
    return ended


def _type(case: Case, outbox: Outbox, port: int) -> "subprocess.CompletedProcess[str]":
    user = f'user = "{case.user}"\n' if case.user else ""
    (outbox.folder / "mail.toml").write_text(
        f'host = "127.0.0.1"\nport = {port}\nsecurity = "none"\npace = "none"\n'
        f"connections = {case.connections}\n{user}",
        "utf-8",
    )
    return subprocess.run(
        [sys.executable, "-m", "tests.faults.typed", "send", "--campaign", str(outbox.folder), "--yes"],
        cwd=ROOT,
        env=os.environ | {"NOTICES_MAIL_PASSWORD": "not this one", "NOTICES_REGISTER": ""},
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


def _look(ended: Ended, outbox: Outbox) -> None:
    register = open_register(outbox.register, now=BEGAN)
    with register.look() as tx:
        postings = list(tx.outbox.postings())
        ended.states = Counter(one.state for one in postings)
        runs = [(one.state, bool(one.why)) for one in tx.record.runs()]
        leased = [one.posting_id for one in postings if one.worker or one.lease_until]
    register.close()
    if runs != [("ended", True)]:
        ended.broken.append(f"the run does not say why it ended: {runs}")
    if leased:
        ended.broken.append(f"{len(leased)} postings are still leased")


def _judge(ended: Ended) -> None:
    case = ended.case
    lines = ended.line.splitlines()
    checks = {
        f"status {ended.status}, not {case.status}": ended.status == case.status,
        f"{len(lines)} lines of complaint": len(lines) == bool(case.says),
        f"said: {ended.line}": case.says in ended.line,
        f"states: {dict(ended.states)}": dict(ended.states) == dict(case.states),
    }
    heard = {
        f"heard {word} {ended.heard[word]} times": ended.heard[word] <= most
        for word, most in case.heard.items()
    }
    ended.broken.extend(words for words, holds in (checks | heard).items() if not holds)


def table(found: Sequence[Ended]) -> str:
    """Return how each server's run ended, as plain text."""
    head = f"{'server':<26}{'status':>7}{'calls':>7}{'AUTH':>6}{'MAIL':>6} {'verdict':>8}  last line"
    return "\n".join([head, *(_row(one) for one in found), *(_broken(one) for one in found if one.broken)])


def _row(one: Ended) -> str:
    heard = one.heard
    counts = f"{heard['connect']:>7}{heard['AUTH']:>6}{heard['MAIL']:>6}"
    verdict = "BROKEN" if one.broken else "holds"
    return f"{one.case.name:<26}{one.status:>7}{counts} {verdict:>8}  {one.line[:90]}"


def _broken(one: Ended) -> str:
    return "\n".join(f"   broken: {one.case.name}: {what}" for what in one.broken)
