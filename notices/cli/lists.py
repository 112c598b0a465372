"""Take in: the sales lists, with their owners and units."""

import re
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Annotated

import typer

from notices.cli.options import HERE, Campaign, Format, Print, Yes
from notices.cli.saying import ask, end, finding_as_json, number, say, say_findings, say_json, stop

_NAME = re.compile(r"[\w][\w .+-]{0,99}")
_owners = typer.Typer(
    name="owners",
    help="Take in the sales lists.",
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)


def add_to(app: typer.Typer) -> None:
    """Add this group's commands."""
    _owners.command("import")(import_)
    app.add_typer(_owners)


def import_(
    *,
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The list as CSV: UTF-8, with commas.")],
    name: Annotated[
        str,
        typer.Option("--as", metavar="NAME", help="The list's name; a newer file of that name updates it."),
    ] = "",
    campaign: Campaign = HERE,
    yes: Yes = False,
    output: Print = Format.TEXT,
) -> None:
    """Take a sales list in, with its owners and units.

    It says how the columns are read, and asks. One bad row does not hold back the good ones.
    """
    from notices.cli.entry.world import opened
    from notices.work import importing

    called = name or file.stem
    if not _NAME.fullmatch(called):
        stop("a list's name holds letters, digits, spaces, points, plus and minus; give one with --as NAME")
    if not file.is_file():
        stop(f"{file} is no file")
    with opened(campaign) as world:
        read = importing.read_list(world, data=file.read_bytes(), file=file.name, name=called)
        if read.columns is None:
            say_findings(read.findings)
            end(mend=True)
            return
        if output is Format.TEXT:
            _columns(read.columns.by_meaning, read.columns.ignored)
            say(f"{number(len(read.table.rows), 'row')} in {file.name}.")
        ask("Read the columns so?", yes=yes)
        done = importing.import_list(world, read)
    counts = {key: getattr(done, key) for key in ("new", "changed", "same", "refused", "missing")}
    if output is Format.JSON:
        say_json({"list": called, **counts, "findings": [finding_as_json(one) for one in done.findings]})
        end(mend=bool(done.refused))
        return
    wrong = say_findings(done.findings)
    say(f"{done.new} new, {done.changed} changed, {done.same} as before, {done.refused} refused.")
    if not name and read.columns.ignored:
        say(f"To read the columns otherwise: change lists/{called}.columns.toml and import again.")
    end(mend=bool(done.refused) or wrong)


def _columns(by_meaning: Mapping[str, Sequence[str]], ignored: Sequence[str]) -> None:
    say("The columns are read as:")
    for meaning, headings in by_meaning.items():
        say(f"  {meaning:<9} {', '.join(headings)}")
    if ignored:
        say(f"  not read  {', '.join(ignored)}")
