"""Take in: the sales lists, with their owners and units; and what is asked of them."""

import re
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Annotated, NoReturn

import typer

from audiences.cleaning import one_line
from audiences.encodings import ENCODINGS
from audiences.findings import Finding, must_mend
from audiences.forms import Form
from audiences.list_faults import LARGEST_LIST, list_too_large
from notices.cli import exporting, gaps, pairs, shops
from notices.cli.options import HERE, Campaign, Format, Print, Yes, command
from notices.cli.saying import MEND, ask, end, finding_as_json, number, say, say_findings, say_json, stop

_NAME = re.compile(r"[\w][\w .+-]{0,99}")
_COUNTS = ("new", "changed", "same", "refused", "missing")
_SEPARATORS = {"comma": "commas", "semicolon": "semicolons", "tab": "tabs"}
_MOST_IGNORED = 20  # headings shown that nobody reads
_owners = typer.Typer(
    name="owners",
    help="Take in the sales lists, and hand on what is known.",
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)


def add_to(app: typer.Typer) -> None:
    """Add this group's commands."""
    _owners.command("import")(import_)
    for group in (pairs, gaps, shops, exporting):
        group.add_to(_owners)
    app.add_typer(_owners)


def import_(
    *,
    file: Annotated[
        Path, typer.Argument(metavar="FILE", help="The list: CSV, or a spreadsheet (XLSX, XLS, ODS).")
    ],
    name: Annotated[
        str,
        typer.Option("--as", metavar="NAME", help="The list's name; a newer file of that name updates it."),
    ] = "",
    sheet: Annotated[
        str,
        typer.Option(
            "--sheet", metavar="NAME", help="The sheet to read; without it, the first that is filled."
        ),
    ] = "",
    role: Annotated[
        str,
        typer.Option(
            "--role",
            metavar="ROLE",
            help="Whom the rows name: keeper, buyer, rider, lessor, guardian, helper or shop; a column goes first.",
        ),
    ] = "keeper",
    put_away: Annotated[
        bool,
        typer.Option("--put-away", help="The units were not sold or not delivered: hold them back."),
    ] = False,
    campaign: Campaign = HERE,
    yes: Yes = False,
    output: Print = Format.TEXT,
) -> None:
    """Take a sales list in, with its owners and units.

    It says how the columns are read, and asks. One bad row does not hold back the good ones. The stop goes to all
    who have a part in a unit, the remedy to its keeper, a refund to its buyer; a shop is told to stop selling.
    """
    from audiences.cells import role as role_of
    from notices.cli.entry.world import opened
    from notices.work import importing, list_findings

    part = role_of(role)
    if part is None:
        stop("a role is one of: keeper, buyer, rider, lessor, guardian, helper, shop")
    called = name or file.stem
    if not _NAME.fullmatch(called):
        stop("a list's name holds letters, digits, spaces, points, plus and minus; give one with --as NAME")
    shown = one_line(file.name) or "list"
    with opened(campaign) as world:
        listed = _bytes(file)
        if listed is None:
            _refused(called, [list_too_large(shown)], output)
        read = importing.read_list(world, data=listed, file=shown, name=called, sheet=sheet)
        if read.columns is None:
            _refused(called, list_findings.told(world, called, read.findings).findings, output)
        if output is Format.TEXT:
            _columns(read.columns.by_meaning, read.columns.ignored)
            say(f"{number(len(read.table.rows), 'row')} in {shown}: {_form(read.table.form)}.")
        ask("Read the columns so?", yes=yes)
        done = importing.import_list(world, read, role=part, put_away=put_away)
        told = list_findings.told(world, called, done.findings)
    counts = {key: getattr(done, key) for key in _COUNTS}
    if output is Format.JSON:
        found = [finding_as_json(one) for one in told.findings]
        say_json({"list": called, **counts, "findings": found, "all_findings": told.file or None})
        end(mend=bool(done.refused) or bool(must_mend(done.findings)))
        return
    wrong = say_findings(told.findings)
    if told.file:
        say(f"Every row of them: {told.file}")
    say(f"{done.new} new, {done.changed} changed, {done.same} as before, {done.refused} refused.")
    if done.refused:
        say("Mend the refused rows in the list and import it again; what went in stays as it is.")
    if not name and read.columns.ignored:
        say(f"To read the columns otherwise: change lists/{called}.columns.toml and import again.")
    say(f"Next, when all lists are in: {command('proofs', campaign)}")
    end(mend=bool(done.refused) or wrong)


def _bytes(file: Path) -> bytes | None:
    """Return what is in a file, None where that is more than a list holds; end where it is no file."""
    if not file.is_file():
        stop(f"{file} is no file")
    with file.open("rb") as opened:
        found = opened.read(LARGEST_LIST + 1) if file.stat().st_size <= LARGEST_LIST else None
    return found if found is not None and len(found) <= LARGEST_LIST else None


def _refused(called: str, findings: Iterable[Finding], output: Format) -> NoReturn:
    """Say why nothing of a list is read, and end."""
    if output is Format.JSON:
        counts = dict.fromkeys(_COUNTS, 0)
        say_json({"list": called, **counts, "findings": [finding_as_json(one) for one in findings]})
    else:
        say_findings(findings)
    raise typer.Exit(MEND)


def _columns(by_meaning: Mapping[str, Sequence[str]], ignored: Sequence[str]) -> None:
    say("The columns are read as:")
    for meaning, headings in by_meaning.items():
        say(f"  {meaning:<9} {', '.join(headings)}")
    if ignored:
        more = len(ignored) - _MOST_IGNORED
        say(f"  not read  {', '.join(ignored[:_MOST_IGNORED])}{f' and {more} more' if more > 0 else ''}")


def _form(form: Form) -> str:
    if form.sheet:
        return f"sheet “{form.sheet}”"
    return f"{ENCODINGS[form.encoding]}, parted by {_SEPARATORS[form.separator]}"
