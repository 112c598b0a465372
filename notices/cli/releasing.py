"""Release: the steps before a notice goes out, each done or overruled by name."""

from typing import Annotated

import typer

from notices.cli.options import HERE, Campaign, Format, Print
from notices.cli.saying import MEND, end, say, say_json, stop, warn

_DONE, _OVERRULE, _PAGE = "done", "overrule", "page"


def add_to(app: typer.Typer) -> None:
    """Add this group's commands."""
    app.command()(ready)


def ready(
    *,
    step: Annotated[str, typer.Argument(metavar="[STEP]", help="A step of the list, as sale or phone.")] = "",
    word: Annotated[
        str,
        typer.Argument(
            metavar="[done|overrule|CODE]",
            help="It is done, or goes undone for a reason; of the page the code that it shows.",
        ),
    ] = "",
    by: Annotated[
        str, typer.Option("--by", metavar="NAME", help="Your name, as it shall stand in the record.")
    ] = "",
    reason: Annotated[
        str, typer.Option("--reason", metavar="TEXT", help="Why it is overruled, or what was seen.")
    ] = "",
    campaign: Campaign = HERE,
    output: Print = Format.TEXT,
) -> None:
    """Show the steps before owners are told, who did each, and what is next.

    A step is done by name, or overruled by name with a reason. Nothing here holds back a stop warning. The steps are
    common practice; what the law asks is in notices deadlines.
    """
    from notices.cli import release_lines
    from notices.cli.entry.world import opened
    from notices.work import page_code, releasing
    from notices.work.words import HearingError

    if step and not word and step != _PAGE:
        stop("say done or overrule: notices ready STEP done --by NAME")
    with opened(campaign) as world:
        try:
            if step == _PAGE and not word:
                say(release_lines.try_page(page_code.draw(world)))
                return
            if word:
                _check(step, word, seen=step == _PAGE and page_code.is_shown(world, word))
                releasing.settle(world, step, overrule=word == _OVERRULE, by=by, text=reason)
        except HearingError as fault:
            warn(f"notices: {fault}")
            raise typer.Exit(MEND) from None
        found = releasing.ready(world)
    if output is Format.JSON:
        say_json(releasing.as_json(found))
    elif word:
        said = "overruled" if word == _OVERRULE else "done"
        say(f"{step} is {said}, by {by.strip()}. {release_lines.next_step(found, campaign)}")
        return
    else:
        say("\n".join(release_lines.lines(found, campaign)))
    end(mend=bool(found.waiting))


def _check(step: str, word: str, *, seen: bool) -> None:
    if word == _OVERRULE or seen:
        return
    if step == _PAGE:
        stop(
            "that is not the code that the page shows; notices ready page draws one, which lasts half an hour"
        )
    if word != _DONE:
        stop("say done or overrule: notices ready STEP done --by NAME")
