"""Begin: a new campaign folder, what is wrong with it, what a finding means, the demo."""

from datetime import date
from pathlib import Path
from typing import Annotated

import typer

from notices.cli import beginning
from notices.cli.options import HERE, Campaign, Format, Print, command, day
from notices.cli.saying import end, finding_as_json, say, say_in_order, say_json, stop


def add_to(app: typer.Typer) -> None:
    """Add this group's commands."""
    app.command()(demo)
    beginning.add_to(app)
    app.command()(check)
    app.command()(explain)


def demo(
    *,
    into: Annotated[Path, typer.Option("--into", metavar="DIR", help="The folder to make and fill.")] = Path(
        "steering-link-demo"
    ),
    seed: Annotated[
        int, typer.Option("--seed", metavar="N", min=0, help="Another seed, other invented owners.")
    ] = 1,
    until: Annotated[
        date | None,
        typer.Option(
            "--until",
            metavar="DAY",
            parser=day,
            help="Go on past 2026-03-09; 2026-03-31 has seen revisions 2 to 5.",
        ),
    ] = None,
) -> None:
    """Run an invented campaign in a folder of its own."""
    from notices.cli.entry.demonstration import run

    run(into, seed, say, until)


def check(
    *,
    against: Annotated[
        int | None,
        typer.Option(
            "--against",
            metavar="N",
            help="Say what the draft changes since this signed revision, and for which units.",
        ),
    ] = None,
    revision: Annotated[
        int | None,
        typer.Option(
            "--revision", metavar="M", help="With --against: compare this signed revision, not the draft."
        ),
    ] = None,
    market: Annotated[
        str | None,
        typer.Option(
            "--market",
            metavar="NAME",
            help="Show what the law of this market asks of a notice, and what is there; all: of every law area.",
        ),
    ] = None,
    campaign: Campaign = HERE,
    output: Print = Format.TEXT,
) -> None:
    """Say what is wrong or missing in the draft.

    Once lists are imported it also says how many of their units fall under each rule.
    """
    from notices.cli import differences, ease_lines, law_lines
    from notices.cli.entry.world import opened
    from notices.work import checking, differing

    if revision is not None and against is None:
        stop("--revision needs --against: two revisions are compared")
    with opened(campaign) as world:
        checked = checking.check(world)
        try:
            found = (
                differing.difference(world, against, drafted=checked.draft, later=revision)
                if against is not None
                else None
            )
        except differing.NoSuchRevisionError as fault:
            stop(str(fault))
        asked = checking.asked_by(world, checked.draft, market) if market else ()
    if market and checked.draft.revision and not asked:
        stop(f"no market and no law area is called {market}; --market all shows every one")
    if output is Format.JSON:
        say_json(
            {
                "findings": [finding_as_json(finding) for finding in checked.findings],
                "law": law_lines.as_json(asked),
                "reading": [ease_lines.as_json(ease) for ease in checked.eases],
                "units": differences.weighed_as_json(checked.weighed),
                "against": differences.as_json(found),
            }
        )
    else:
        say_in_order(checked.findings)
        for line in (
            *law_lines.lines(asked),
            *ease_lines.lines(checked.eases),
            *differences.weighed(checked.weighed),
            *differences.lines(found),
        ):
            say(line)
        say(checking.summary(checked.findings))
        if not checking.holds_back(checked.findings):
            say(f"Next: {command('proofs', campaign)}")
    end(mend=checking.holds_back(checked.findings))


def explain(
    *,
    code: Annotated[str, typer.Argument(metavar="CODE", help="The word in brackets of a finding.")] = "",
) -> None:
    """Explain what a finding means and how to mend it."""
    from notices.cli import explaining

    if not code:
        for known in explaining.codes():
            say(known)
        return
    text = explaining.explain(code.strip("[]"))
    if text is None:
        near = explaining.near(code)
        stop(
            f"no finding is called {code}"
            + (f"; did you mean {near}?" if near else "; notices explain lists them all")
        )
    say(text)
