"""Hand on: a view of the register as a file that spreadsheet programs open."""

from pathlib import Path
from typing import Annotated

import typer

from notices.cli.options import HERE, Campaign, Format, Print, Yes
from notices.cli.saying import ask, number, say, say_json, stop

SUFFIXES = (".csv", ".xlsx")


def add_to(owners: typer.Typer) -> None:
    """Add this group's commands."""
    owners.command("export")(export)


def export(
    *,
    view: Annotated[
        str,
        typer.Argument(
            metavar="VIEW", help="What to write: owners, units, due, not-reached, gaps, stock or shops."
        ),
    ],
    to: Annotated[
        Path, typer.Option("--to", metavar="FILE", help="The file to write; it ends in .csv or .xlsx.")
    ],
    campaign: Campaign = HERE,
    yes: Yes = False,
    output: Print = Format.TEXT,
) -> None:
    """Write a view of the register as a CSV file or a spreadsheet.

    Nothing in it runs as a formula, and owners import reads it back the same. It holds names and addresses: only
    this account may read it.
    """
    from notices.cli.entry import exports
    from notices.cli.entry.world import opened
    from notices.work import views

    if view not in views.VIEWS:
        stop(f"a view is one of: {', '.join(views.VIEWS)}")
    if to.suffix.lower() not in SUFFIXES:
        stop(f"{to.name} ends neither in .csv nor in .xlsx")
    with opened(campaign) as world:
        found = views.view(world, view)
        if to.exists():
            ask(f"{to} is there already. Write over it?", yes=yes)
        exports.write(world, to, found)
    if output is Format.JSON:
        say_json({"view": view, "file": str(to), "rows": len(found.rows), "columns": list(found.headings)})
        return
    say(f"{number(len(found.rows), 'row')} of {view} in {to}.")
