"""What stands at the end of the questions: note, warning, duties with their days, and the one next command."""

import shlex
from collections.abc import Iterator, Sequence
from pathlib import Path

from audiences.findings import must_mend
from audiences.whereabouts import language_of
from notices.campaign.answers import Answers
from notices.campaign.duties import CLOSING
from notices.cases.deadlines import Owed, markets_of, without_duties
from notices.cli.options import command
from notices.cli.saying import number, say
from notices.work.founding import Founded

WRITTEN = "en"


def show(folder: Path, done: Founded, answers: Answers) -> None:
    """Print it; the last line is the command to type next."""
    say(f"\n{folder} is made.")
    say("\nThe note that stops all sales. Send it now; nothing has to be signed for it.\n")
    say(done.note.rstrip())
    say("\nTo be read:")
    for name in ("campaign.yaml", *done.files):
        say(f"  {folder / name}")
    say("\nWhat you owe the authorities:")
    for line in _duties(done.duties, answers):
        say(f"  {line}")
    say(CLOSING)
    mend = len(must_mend(done.findings))
    if mend:
        say(f"\nThe stop warning is not ready: {number(mend, 'part')} must be mended first.")
        say(f"Next: {command('check', folder)}")
        return
    say("\nThe stop warning is ready to be signed, as soon as the program knows whom it goes to.")
    for line in _languages(answers.lines("countries")):
        say(line)
    say(f"{number(len(done.findings), 'thing')} to find out meanwhile: {command('check', folder)}")
    file = next((line for line in answers.lines("lists") if Path(line).is_file()), "FILE")
    say(f"Next, with each list of buyers: {command(f'owners import {shlex.quote(file)}', folder)}")


def _duties(duties: tuple[Owed, ...], answers: Answers) -> Iterator[str]:
    for due in duties:
        duty = due.duty
        if due.day is None:
            when = "count from the day you learned of it" if duty.days else "at once"
        else:
            when = f"by {due.day}" if duty.days else f"at once, since {due.day}"
        yield f"{duty.market}, {when}: {duty.what}."
        yield f"    {duty.source} ({duty.mark})"
    countries = answers.lines("countries")
    for market in without_duties(markets_of(countries)):
        yield f"{market}: we know of no duty there; ask the authority."
    if not countries:
        yield "The countries are not yet known, and with them what is owed there."


def _languages(countries: Sequence[str]) -> Iterator[str]:
    """Yield a line where owners most likely read another language than the texts are in."""
    spoken = {tag for tag in map(language_of, countries) if tag not in {None, WRITTEN}}
    if spoken:
        files = ", ".join(f"translations/{tag}.po" for tag in sorted(filter(None, spoken)))
        yield f"It is in English, and does not wait for other languages. Its owners read better from: {files}"
