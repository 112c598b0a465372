"""A campaign begins with fourteen questions, typed in a terminal, through a pipe, as options or from a file."""

import errno
import os
import pty
import re
import select
import shlex
import signal
import subprocess
import sys
import time
from datetime import UTC, datetime
from pathlib import Path

import pytest

from tests import source
from tests.commands import Desk, Said, desk

__all__ = ["desk"]

TODAY = datetime.now(UTC).astimezone().date()
TYPED = """\
Halvard 40 ladder
Tarn & Oake
Mill Lane 4, Fellbrook
GB
importer
2026-03-02
A rung can break
You fall
killed
nothing so far

Stop using the ladder


code
HV-2531-K041
HV-2533-L077
HV-2540-K129

yes
yes
yes
yes
week 2530-2533, line K

?
1240
?
?
GB IE

Cooper Yard

sales.csv

no


safety@tarn.example
GB +442079460991
IE

?
Ada Orrin
?
no
yes
none
"""
LIST = """\
order,code,name,email,country,sold on
1,HV-2531-K041,Anna Reed,anna@mail.example,GB,2025-09-01
2,HV-2531-L041,Joe Reed,joe@mail.example,IE,2025-09-02
3,,Ola Reed,ola@mail.example,IE,2025-09-03
"""


def files(folder: Path) -> dict[str, bytes]:
    """Return every file below a folder by its name."""
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.fixture
def begun(desk: Desk, tmp_path: Path) -> Said:
    """Answer the fourteen questions through a pipe, for the folder ``ladder``."""
    desk.patch.chdir(tmp_path)
    (tmp_path / "sales.csv").write_text(LIST, "utf-8")
    return desk.type("new", "ladder", answer=TYPED)


def test_the_questions_end_with_note_warning_duties_and_the_next_command(begun: Said, tmp_path: Path) -> None:
    asked = re.findall(r"^(\d+) of 14\. ", begun.out, re.MULTILINE)

    assert (begun.status, begun.err) == (0, "")
    assert list(dict.fromkeys(asked)) == [str(number) for number in range(1, 15)]
    assert "HV-2531-K041 reads as year 2025, week 31, line K, number 41. Is that right?" in begun.out
    assert "2531: week 31 of 2025?" in begun.out
    assert "Not known is not the same as none" in begun.out
    assert "STOP SELLING: Halvard 40 ladder" in begun.out
    assert "Cooper Yard" in begun.out.partition("Answer this today")[2]
    assert "EU, at once, since 2026-03-02: correct, warn consumers, and notify" in begun.out
    assert "This is no legal advice: your firm's counsel and the authority decide." in begun.out
    assert begun.out.rstrip().split("\n")[-1] == (
        "Next, with each list of buyers: notices owners import sales.csv --campaign ladder"
    )
    assert sorted(files(tmp_path / "ladder")) == [
        "answers.toml",
        "campaign.yaml",
        "mail.toml",
        "out/stop-sale.html",
        "out/stop-sale.txt",
        "out/stop-warning.html",
        "out/stop-warning.txt",
    ]


def test_no_question_speaks_of_what_is_not_asked(begun: Said) -> None:
    spoken = begun.out.partition("STOP SELLING")[0].casefold()

    assert not re.search(r"cadence|\brisk|database|account|colou?r|register", spoken)


def test_what_only_the_firm_needs_to_know_is_not_in_the_warning(begun: Said, tmp_path: Path) -> None:
    warning = (tmp_path / "ladder" / "out" / "stop-warning.txt").read_text("utf-8")

    assert begun.status == 0
    assert "We do not know yet whether anybody has been hurt." in warning
    assert "Sunday" not in warning
    assert "signs for the firm" not in warning


def test_the_check_is_a_list_of_what_is_to_do_in_the_order_of_the_notice(begun: Said, desk: Desk) -> None:
    checked = desk.type("check", "--campaign", "ladder", "--format", "json").json["findings"]
    open_facts = [one["path"] for one in checked if one["code"] == "fact-open"]

    assert begun.status == 0
    assert {one["severity"] for one in checked} == {"consider"}
    assert open_facts == [
        "hazard.who", "product.sold", "product.sold", "code.where", "contacts", "owners", "sale_stop", "sign",
    ]  # fmt: skip


def test_the_same_answers_make_the_same_folder_byte_for_byte(begun: Said, desk: Desk, tmp_path: Path) -> None:
    again = desk.type("new", "again", "--answers", "ladder/answers.toml")

    assert (begun.status, again.status) == (0, 0)
    assert files(tmp_path / "again") == files(tmp_path / "ladder")


def test_a_stranger_signs_by_following_only_what_the_program_says(begun: Said, desk: Desk) -> None:
    """The next command stands in what each command prints; the program's own NAME and FILE are filled in."""
    said, typed = begun, []
    for _ in range(6):
        if "is signed" in said.out:
            break
        (command,) = re.findall(r"notices ((?:owners import|proofs|sign) [^\n]*)$", said.out, re.MULTILINE)[
            -1:
        ]
        typed.append(command.replace("NAME", '"Ada Orrin"'))
        said = desk.type(*shlex.split(typed[-1]), answer="y\n")
        assert said.status == 0, said

    assert typed == [
        "owners import sales.csv --campaign ladder",
        "proofs --campaign ladder",
        'sign --by "Ada Orrin" --all --campaign ladder',
    ]
    assert "Revision 0 is signed." in said.out


def test_answers_that_end_too_soon_leave_nothing_behind(desk: Desk, tmp_path: Path) -> None:
    desk.patch.chdir(tmp_path)
    said = desk.type("new", "ladder", answer="Halvard 40 ladder\nTarn & Oake\n")

    assert said.status == 2
    assert "the answers end at question 2, and nothing was made" in said.err
    assert not (tmp_path / "ladder").exists()


def test_an_unfit_answer_is_asked_again(desk: Desk, tmp_path: Path) -> None:
    desk.patch.chdir(tmp_path)
    said = desk.type(
        "new", "ladder", answer=TYPED.replace("\nGB\nimporter", "\nIreland\nIE\nowner\nimporter")
    )

    assert said.status == 0
    assert "Ireland: write a country as two letters" in said.out
    assert "write one of: maker, importer, dealer" in said.out


@pytest.mark.parametrize(("answer", "kept"), [("no", "no"), ("?", "?")])
def test_a_layout_that_is_not_right_is_left_out(answer: str, kept: str, desk: Desk, tmp_path: Path) -> None:
    desk.patch.chdir(tmp_path)
    said = desk.type(
        "new", "ladder", answer=TYPED.replace("yes\nyes\nyes\nyes\n", f"yes\nperhaps\n{answer}\n")
    )

    assert said.status == 0
    assert "Then the layout is left out, and every unit counts as affected until you know it." in said.out
    assert f'layout = "{kept}"' in (tmp_path / "ladder" / "answers.toml").read_text("utf-8")
    assert "\ncode:" not in (tmp_path / "ladder" / "campaign.yaml").read_text("utf-8")


def test_codes_without_a_build_are_asked_about_and_left_out(desk: Desk, tmp_path: Path) -> None:
    desk.patch.chdir(tmp_path)
    codes = "HV-2531-K041\nHV-2533-L077\nHV-2540-K129\n\nyes\nyes\nyes\nyes\n"
    said = desk.type("new", "ladder", answer=TYPED.replace(codes, "AA\nAA-\nA A\nA\nAAA\n\n"))

    assert said.status == 0
    assert "These codes do not show how they are built." in said.out


def test_options_answer_their_questions_and_yes_takes_the_rest_as_unknown(desk: Desk, tmp_path: Path) -> None:
    place = tmp_path / "new one"
    made = desk.type("new", str(place), "--product", "Stove [[x]] %(y)s", "--issuer", 'A "B": # Ltd', "--yes")
    checked = desk.type("check", "--campaign", str(place), "--format", "json").json["findings"]

    assert made.status == 0
    assert "The stop warning is not ready: 3 parts must be mended first." in made.out
    assert made.out.rstrip().endswith(f"Next: notices check --campaign '{place}'")
    assert 'name: "A \\"B\\": # Ltd"' in (place / "campaign.yaml").read_text("utf-8")
    assert {one["code"] for one in checked if one["severity"] == "must mend"} == {
        "hazard-missing",
        "contact-missing",
    }


def test_options_go_before_the_file_of_answers(begun: Said, desk: Desk, tmp_path: Path) -> None:
    said = desk.type("new", "other", "--answers", "ladder/answers.toml", "--product", "Halvard 60 ladder")

    assert (begun.status, said.status) == (0, 0)
    assert 'product = "Halvard 60 ladder"' in (tmp_path / "other" / "answers.toml").read_text("utf-8")


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        ('learned = "soon"\n', "answers.toml:1: must mend [answer-unfit] learned: write the day"),
        ('\ncolour = "red"\n', "answers.toml:2: must mend [answer-form] colour: no question has this key"),
        ("product = \n", "answers.toml:1: must mend [answers-not-toml]"),
    ],
)
def test_a_faulty_file_of_answers_makes_nothing(
    text: str, complaint: str, desk: Desk, tmp_path: Path
) -> None:
    desk.patch.chdir(tmp_path)
    desk.write(str(tmp_path / "mine.toml"), text)
    said = desk.type("new", "ladder", "--answers", "mine.toml")

    assert said.status == 1
    assert complaint in said.out
    assert "Nothing was made." in said.out
    assert not (tmp_path / "ladder").exists()


@pytest.mark.parametrize(
    ("data", "complaint"),
    [
        (None, "mine.toml is no file"),
        (b'product = "\xe9"', "is not UTF-8"),
        (b"#" * 1_000_001, "is larger than"),
    ],
)
def test_what_is_no_file_of_answers_is_said_so(
    data: bytes | None, complaint: str, desk: Desk, tmp_path: Path
) -> None:
    desk.patch.chdir(tmp_path)
    if data is not None:
        (tmp_path / "mine.toml").write_bytes(data)
    said = desk.type("new", "ladder", "--answers", "mine.toml")

    assert (said.status, said.out) == (2, "")
    assert complaint in said.err


@pytest.mark.parametrize("before", [(), ("ladder",)])
def test_a_folder_that_cannot_be_written_whole_is_taken_away_again(
    before: tuple[str, ...], desk: Desk, tmp_path: Path
) -> None:
    desk.patch.chdir(tmp_path)
    for name in before:
        (tmp_path / name).mkdir()
    desk.patch.setattr("os.fsync", _full)
    said = desk.type("new", "ladder", "--product", "A", "--issuer", "B", "--yes")

    assert said.status == 2
    assert "Traceback" not in said.err
    assert (tmp_path / "ladder").exists() is bool(before)
    assert list((tmp_path / "ladder").glob("*")) == []


def _full(_: int) -> None:
    raise OSError(errno.ENOSPC, "No space left on device")


def test_a_market_of_which_no_duty_is_known_is_sent_to_its_authority(desk: Desk, tmp_path: Path) -> None:
    desk.patch.chdir(tmp_path)
    said = desk.type("new", "x", "--product", "A", "--issuer", "B", "--countries", "CH AU", "--yes")

    assert "CH: we know of no duty there; ask the authority." in said.out
    assert "AU, count from the day you learned of it: report a death or a serious injury." in said.out


def terminal(folder: Path, typed: str, *, broken_off: bool = False) -> tuple[int, str]:
    """Type into the command in a terminal of its own; return its exit status and all that stood there."""
    ours, theirs = pty.openpty()
    signal.signal(
        signal.SIGINT, signal.default_int_handler
    )  # a run in the background is deaf to it, and its children
    process = subprocess.Popen(
        [sys.executable, "-m", "notices.cli.__main__", "new", "ladder"],
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(source.ROOT)},
        start_new_session=True,
    )
    os.close(theirs)
    shown, waiting, until = b"", typed.splitlines(keepends=True), time.monotonic() + 60
    again = float("inf")
    while time.monotonic() < until:
        if not select.select([ours], [], [], 0.2)[0]:
            if process.poll() is not None:
                break
            if time.monotonic() > again:  # one that came just before the reading began is not heard
                process.send_signal(signal.SIGINT)
                again = float("inf")
            continue
        try:
            shown += os.read(ours, 65536)
        except OSError:  # the other end is closed
            break
        if shown.endswith(b"> "):
            if waiting:
                os.write(ours, waiting.pop(0).encode())
            elif broken_off:
                process.send_signal(signal.SIGINT)
                broken_off, again = False, time.monotonic() + 10
    try:
        status = process.wait(30)
    finally:
        process.kill()
        process.wait()
        os.close(ours)
    return status, shown.decode()


def test_it_asks_in_a_terminal_one_at_a_time(tmp_path: Path) -> None:
    status, shown = terminal(tmp_path, TYPED)

    assert status == 0, shown
    assert "1 of 14. What do owners call the product?\r\n> Halvard 40 ladder" in shown
    assert (tmp_path / "ladder" / "campaign.yaml").is_file()


def test_breaking_off_leaves_nothing_behind_and_says_so(tmp_path: Path) -> None:
    status, shown = terminal(tmp_path, "Halvard 40 ladder\n", broken_off=True)

    assert status == 2
    assert "broken off; nothing was made" in shown
    assert "Traceback" not in shown
    assert list(tmp_path.iterdir()) == []
