"""Whole evenings, typed as a lead types them: a warning before any remedy, no public page, a sender killed midway."""

import json
import os
import re
import shutil
import signal
import subprocess
import sys
import time
from dataclasses import dataclass
from email import message_from_bytes
from email.message import EmailMessage
from email.policy import default
from html import unescape
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, unquote, urlsplit

import pytest

from notices.campaign.starter import STARTER
from tests.source import ROOT
from tests.stove import changed

LEAD = ("--by", "Ines Hall")
NOTICES = (sys.executable, "-m", "notices.cli")

# All that the first evening has: what it is, what can happen, what to do, one way to reach us, when we write again.
WARNING = """
revision: {number: 0, day: 2026-01-12}
next_word: 2026-01-16
hazard:
  signal: WARNING
  what: The valve of the stove can leak gas. The gas can catch fire or explode.
  who: You and everyone near the stove can be killed or badly burnt.
now:
  headline: Stop using your Emberling now. Do not light it again.
  steps:
    all: [Put the stove out. Do not light it again., Tell us that you have stopped.]
"""
FAULTY = """
code:
  label: number
  layout: [{text: EM}, {field: works, one_of: FGH}, {field: number, digits: 3}]
  example: {code: EM-X-9, works: F, number: 9}
affected:
  - {rule: works-q, colour: [blue, green]}
"""
BUYERS = """order,name,email,country
1,Ada Quell,ada@mail.example,GB
2,Bo Linden,bo@post.example,IE
3,Cem Aydin,,DE
"""


@dataclass(frozen=True)
class Typed:
    """One command as it ended."""

    status: int
    out: str
    err: str

    @property
    def json(self) -> Any:  # noqa: ANN401 - a test names the shape it expects
        """Return what was printed, read as JSON."""
        return json.loads(self.out)


@dataclass(frozen=True)
class Lead:
    """A lead at a terminal, in a campaign folder."""

    folder: Path

    def begin(self, *words: str) -> subprocess.Popen[str]:
        """Type one command and do not wait for its end."""
        environment = {name: value for name, value in os.environ.items() if not name.startswith("NOTICES_")}
        environment |= {"PYTHONPATH": str(ROOT), "COLUMNS": "100", "PYTHONUTF8": "1"}
        return subprocess.Popen(
            [*NOTICES, *words],
            cwd=self.folder,
            env=environment,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )

    def type(self, *words: str) -> Typed:
        """Type one command, and read what it prints."""
        with self.begin(*words) as process:
            out, err = process.communicate(timeout=120)
        assert "Traceback" not in err, err
        return Typed(process.returncode, out, err)

    def write(self, name: str, text: str) -> None:
        """Write a file of the folder in an editor."""
        (self.folder / name).write_text(text, "utf-8")

    def mails(self) -> dict[str, EmailMessage]:
        """Return the messages in the folder ``mails`` by address; two to one address are a failure."""
        found: dict[str, EmailMessage] = {}
        for file in sorted((self.folder / "mails").glob("*.eml")):
            mail = message_from_bytes(file.read_bytes(), EmailMessage, policy=default)
            address = mail["To"].addresses[0].addr_spec
            assert address not in found, f"two messages to {address}"
            found[address] = mail
        return found


def _parts(mail: EmailMessage) -> tuple[str, str]:
    """Return plain text and HTML of a message, spaces folded."""
    plain, html = mail.get_body(("plain",)), mail.get_body(("html",))
    assert plain is not None
    assert html is not None
    return " ".join(plain.get_content().split()), " ".join(unescape(html.get_content()).split())


def _stove(place: Path) -> Lead:
    """Begin a campaign with two names, and write down by hand what the first evening knows."""
    begun = Lead(place).type(
        "new", "stove", "--issuer", "Emberfold Outdoor", "--product", "Emberling", "--yes"
    )
    assert (begun.status, begun.err) == (0, "")
    lead = Lead(place / "stove")
    names = (("name: Your firm  ", "name: Emberfold Outdoor  "), ("name: Your product", "name: Emberling"))
    text = changed(*names, text=STARTER)
    commented = "  # email: safety@fellbrook.example # owners see it and answer to it\n"
    with_mail = changed((commented, "  email: safety@emberfold.example\n"), text=text)
    lead.write("campaign.yaml", with_mail + WARNING)
    return lead


@dataclass(frozen=True)
class Evening:
    """The first evening: the lead, and each command by its first word."""

    lead: Lead
    typed: dict[str, Typed]


@pytest.fixture(scope="module")
def evening(tmp_path_factory: pytest.TempPathFactory) -> Evening:
    """Warn the owners of a list with a bad row, knowing nothing of rule, remedy or code."""
    lead = _stove(tmp_path_factory.mktemp("evening"))
    lead.write("buyers.csv", BUYERS + "4,Too,few\n")
    commands = (
        ("check",),
        ("owners", "import", "buyers.csv", "--yes"),
        ("proofs",),
        ("sign", *LEAD, "--all", "--unread-too", "--yes"),
        ("send", "--to-folder", "mails", "--yes"),
    )
    return Evening(lead, {words[0]: lead.type(*words) for words in commands})


def test_a_warning_goes_out_before_rule_remedy_and_code_are_known(evening: Evening) -> None:
    said = {name: typed.out + typed.err for name, typed in evening.typed.items()}

    assert {name for name, words in said.items() if "must mend" in words} == {"owners"}
    assert {name: typed.status for name, typed in evening.typed.items() if typed.status} == {"owners": 1}
    assert evening.lead.mails().keys() == {"ada@mail.example", "bo@post.example"}


def test_the_row_that_was_refused_is_named_with_its_place(evening: Evening) -> None:
    assert "buyers.csv:5: must mend" in evening.typed["owners"].out
    assert "3 new, 0 changed, 0 as before, 1 refused." in evening.typed["owners"].out


def test_who_has_no_address_is_due_by_another_way(evening: Evening) -> None:
    due = evening.lead.type("due", "--format", "json").json

    assert [step["owner"] for step in due["due"] if step["channel"] != "email"] == ["Cem Aydin"]


@pytest.mark.parametrize("part", [0, 1], ids=["plain", "html"])
def test_every_text_of_a_warning_names_hazard_stop_contact_and_the_day_of_the_next_word(
    evening: Evening, part: int
) -> None:
    for mail in evening.lead.mails().values():
        text = _parts(mail)[part]

        assert "16 January" in text
        assert "Stop using your Emberling now" in text
        assert "The valve of the stove can leak gas." in text
        assert "can be killed or badly burnt." in text
        assert "safety@emberfold.example" in text


def test_a_fault_in_code_rule_or_price_is_named_and_holds_back_no_warning(tmp_path: Path) -> None:
    lead = _stove(tmp_path)
    text = (lead.folder / "campaign.yaml").read_text("utf-8")
    lead.write("campaign.yaml", text + FAULTY)
    lead.write("buyers.csv", BUYERS)
    checked = lead.type("check")
    lead.type("owners", "import", "buyers.csv", "--yes")
    signed = lead.type("sign", *LEAD, "--all", "--unread-too", "--yes")
    sent = lead.type("send", "--to-folder", "mails", "--yes")

    assert checked.status == 1
    assert "must mend" in checked.out
    assert (signed.status, sent.status) == (0, 0), signed.out
    assert lead.mails().keys() == {"ada@mail.example", "bo@post.example"}


def test_the_public_page_of_a_warning_names_the_day_of_the_next_word_too(tmp_path: Path) -> None:
    lead = _stove(tmp_path)
    text = (lead.folder / "campaign.yaml").read_text("utf-8")
    lead.write(
        "campaign.yaml",
        changed(("  # bulletin: ", "  bulletin: "), text=text)
        + "ledger: [{standing: not_yet_known, text: how many valves are faulty}]\n",
    )
    signed = lead.type("sign", *LEAD, "--all", "--unread-too", "--yes")
    published = lead.type("bulletin")
    pages = [file.read_text("utf-8") for file in sorted((lead.folder / "out/bulletin").iterdir())]

    assert (signed.status, published.status) == (0, 0)
    assert len(pages) == 2
    for page in pages:
        assert "16 January" in unescape(page)
        assert "How many valves are faulty" in unescape(page)


@pytest.fixture(scope="module")
def without_a_page(tmp_path_factory: pytest.TempPathFactory) -> Lead:
    """Lay out the demo's recall with no address to answer at, and send it."""
    place = tmp_path_factory.mktemp("without-a-page")
    demo = ROOT / "notices/demo/folder"
    shutil.copytree(demo / "pictures", place / "pictures")
    shutil.copytree(demo / "translations-1", place / "translations")
    lead = Lead(place)
    text = (demo / "campaign-1.yaml").read_text("utf-8")
    lead.write("campaign.yaml", changed(("  answers: https://aldmere.example/drayling\n", ""), text=text))
    lead.write(
        "shop.csv",
        "order,code,name,email,phone,country,language\n"
        "1,QM-2534-B0172,Anna Reed,anna@mail.example,,GB,en\n"
        "2,QM-2534-B0173,Bernd Öl,bernd@post.example,,DE,de\n"
        "3,,سمير,samir@post.example,,DE,ar\n"
        "4,QM-2534-B0175,Nuala Fenn,nuala@post.example,,IE,en\n",
    )
    lead.type("owners", "import", "shop.csv", "--yes")
    reason = "No number is free everywhere; we call everybody back, and say so."
    lead.type("overrule", "element-missing", "contacts", *LEAD, "--reason", reason)
    signed = lead.type("sign", *LEAD, "--all", "--unread-too", "--yes")
    sent = lead.type("send", "--to-folder", "mails", "--yes")

    assert (signed.status, sent.status) == (0, 0), signed.out + sent.out
    return lead


def _mail_to_us(mail: EmailMessage) -> dict[str, str]:
    """Return the mail that the button of a notice begins: to, subject, body."""
    html = mail.get_body(("html",))
    assert html is not None
    links = [unescape(link) for link in re.findall(r'href="(mailto:[^"]+)"', html.get_content())]
    written = next(link for link in links if "body=" in link)
    found = urlsplit(written)
    fields = {name: values[0] for name, values in parse_qs(found.query).items()}
    return {"to": unquote(found.path), **fields}


def test_without_a_page_every_message_carries_reply_and_telephone_instead(without_a_page: Lead) -> None:
    mails = without_a_page.mails()
    words = {"en": "STOPPED", "de": "GESTOPPT", "ar": "توقفت"}

    assert len(mails) == 4
    for mail in mails.values():
        plain, html = _parts(mail)
        answer = _mail_to_us(mail)
        assert answer["to"] == "safety@aldmere.example"
        assert answer["subject"] == words[mail["Content-Language"]]
        assert words[mail["Content-Language"]] in plain
        assert mail["Reply-To"].addresses[0].addr_spec == "safety@aldmere.example"
        assert "aldmere.example/drayling" not in plain + html
    assert "0808 157 0172" in _parts(mails["anna@mail.example"])[0]
    assert "tel:+44-808-157-0172" in _parts(mails["anna@mail.example"])[1]
    assert "030 23125172" in _parts(mails["bernd@post.example"])[0]
    assert "We will call you back free of charge." in _parts(mails["nuala@post.example"])[0]
    refused = without_a_page.type("serve")
    assert refused.status == 1
    assert "issuer.answers" in refused.out + refused.err


def test_a_reply_that_staff_write_down_reaches_the_right_case_and_no_other(without_a_page: Lead) -> None:
    body = _mail_to_us(without_a_page.mails()["bernd@post.example"])["body"]
    (reference,) = re.findall(r"\b[0-9A-HJKMNP-TV-Z]{7}[0-9A-Z]\b", body)
    by_reference = without_a_page.type("record", reference, "stopped", *LEAD, "--via", "mail")
    by_address = without_a_page.type("record", "anna@mail.example", "stopped", *LEAD, "--via", "mail")
    used = without_a_page.type("record", "QM-2534-B0172", "use", "unridden", *LEAD, "--via", "mail")
    nobody = without_a_page.type("record", "eve@mail.example", "stopped", *LEAD, "--via", "mail")
    history = without_a_page.type("case", reference, "--format", "json")
    standing = without_a_page.type("status", "--format", "json").json

    assert [one.status for one in (by_reference, by_address, used, nobody)] == [0, 0, 0, 1]
    assert reference in by_reference.out
    assert "QM-2534-B0173" in history.out
    assert standing["stopped"] == {"stopped": 2, "pressed": 0, "in_use": 0, "no_word": 2}
    assert standing["grid"]["unridden"]["answered"] == 1
    assert standing["grid"]["unknown"]["answered"] == 1
    assert standing["grid"]["unknown"]["notified"] == 2


def test_a_sender_killed_midway_twice_tells_everybody_exactly_once(tmp_path: Path) -> None:
    stove = _stove(tmp_path)
    owners = {f"owner{n:03}@mail.example" for n in range(240)}
    rows = [f"{n},Owner {n},{address},GB" for n, address in enumerate(sorted(owners))]
    stove.write("buyers.csv", "\n".join(["order,name,email,country", *rows, ""]))
    stove.type("owners", "import", "buyers.csv", "--yes")
    stove.type("sign", *LEAD, "--all", "--unread-too", "--yes")
    written = [_killed_after(stove, more) for more in (40, 130)]
    last = stove.type("send", "--to-folder", "mails", "--yes")
    again = stove.type("send", "--to-folder", "mails", "--yes")

    assert 40 <= written[0] < written[1] < 240
    assert (last.status, again.status) == (0, 0)
    assert stove.mails().keys() == owners
    assert "0 messages to 0 owners can go now" in again.out
    counts = stove.type("outbox", "--format", "json").json
    assert {state: count for state, count in counts.items() if count} == {"handed_over": 240}


def _killed_after(lead: Lead, enough: int) -> int:
    """Send until the folder holds *enough* messages, kill the sender with no word, and return how many there are."""
    place = lead.folder / "mails"
    process = lead.begin("send", "--to-folder", "mails", "--yes")
    until = time.monotonic() + 60
    while len(list(place.glob("*.eml"))) < enough:
        assert process.poll() is None, process.communicate()
        assert time.monotonic() < until, "the sender writes nothing"
        time.sleep(0.005)
    process.send_signal(signal.SIGKILL)
    process.communicate()

    assert process.returncode == -signal.SIGKILL
    return len(list(place.glob("*.eml")))
