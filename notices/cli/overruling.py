"""Overrule: a named person judges a finding otherwise than the check, with a reason that stands on the proof."""

from typing import Annotated

import typer

from notices.cli.options import HERE, By, Campaign
from notices.cli.saying import MEND, number, say, say_findings, warn


def add_to(app: typer.Typer) -> None:
    """Add this group's commands."""
    app.command()(overrule)


def overrule(
    *,
    code: Annotated[str, typer.Argument(metavar="CODE", help="The word in brackets of the finding.")],
    where: Annotated[
        str, typer.Argument(metavar="PLACE", help="Its path, as remedies.repair.all.by, or file:line.")
    ],
    by: By,
    reason: Annotated[
        str,
        typer.Option(
            "--reason", metavar="TEXT", help="Why the finding is wrong here; it stands on the proof."
        ),
    ],
    language: Annotated[
        str, typer.Option("--language", metavar="TAG", help="With a path: in this translation.")
    ] = "",
    says: Annotated[
        str, typer.Option("--says", metavar="TEXT", help="Words of the finding, where several stand there.")
    ] = "",
    back: Annotated[
        bool, typer.Option("--take-back", help="Let a finding that was overruled hold back again.")
    ] = False,
    campaign: Campaign = HERE,
) -> None:
    """Let a finding that must be mended hold nothing back, by name and reason.

    Only a judgement about words or law can be overruled, passage by passage, and never a missing hazard or stop. It
    stands on the proof, in the record and with each signature. A change of the passage voids it.
    """
    from notices.cli.entry.world import opened
    from notices.work import overruling as work

    place = work.Place(code=code.strip("[]"), where=where, language=language, says=says)
    with opened(campaign) as world:
        try:
            found = (work.take_back if back else work.overrule)(world, place, by=by, reason=reason)
        except work.OverrulingError as fault:
            warn(f"notices: {fault}")
            raise typer.Exit(MEND) from None
    say_findings(found)
    count = number(len(found), "finding")
    say(f"{count} taken back: held back again." if back else f"{count} overruled, until the passage changes.")
