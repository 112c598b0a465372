"""The shops: where each stands, what it says on the telephone, and the addresses that it forwards."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from notices.cli.exporting import SUFFIXES
from notices.cli.options import HERE, Campaign, Format, On, Print, Yes
from notices.cli.saying import MEND, ask, number, say, say_json, stop, warn

if TYPE_CHECKING:  # heavy imports wait until their command runs
    from notices.work.ports import World
    from notices.work.shop_words import Confirmation

_OUTCOMES = ("dead", "no-answer", "spoke")
_NAMES = {"handed-over": "handed_over", "forward": "forward"}


def add_to(owners: typer.Typer) -> None:
    """Add this group's commands."""
    owners.command("shops")(shops)


def shops(  # noqa: PLR0913 - each is an option of its own
    *,
    shop: Annotated[
        str, typer.Argument(metavar="[SHOP]", help="Write down what this shop said, or that it was called.")
    ] = "",
    stopped: Annotated[
        bool | None,
        typer.Option("--stopped/--still-selling", help="Whether it has stopped selling and handing out."),
    ] = None,
    shelf: Annotated[
        int | None, typer.Option("--shelf", metavar="N", min=0, help="How many it has, shelf and store.")
    ] = None,
    sold: Annotated[
        int | None, typer.Option("--sold", metavar="N", min=0, help="How many it has sold or handed out.")
    ] = None,
    names: Annotated[
        str,
        typer.Option("--names", metavar="HOW", help="handed-over: it gives us its customers; or forward."),
    ] = "",
    called: Annotated[
        str, typer.Option("--called", metavar="OUTCOME", help="It was called: no-answer, dead or spoke.")
    ] = "",
    by: Annotated[str, typer.Option("--by", metavar="NAME", help="Who said so there, or who called.")] = "",
    pages: Annotated[
        bool,
        typer.Option("--pages", help="Show the address of each one's own page too: send it to no other."),
    ] = False,
    forward: Annotated[
        str,
        typer.Option(
            "--forward-pack",
            metavar="WHO",
            help="Make addresses for a shop to forward, or for a lessor (by its address or number).",
        ),
    ] = "",
    count: Annotated[
        int | None,
        typer.Option(
            "--count", metavar="N", min=1, help="How many; a lessor gets one for each unit it lets."
        ),
    ] = None,
    to: Annotated[
        Path | None,
        typer.Option("--to", metavar="FILE", help="The file they go into; it ends in .csv or .xlsx."),
    ] = None,
    campaign: Campaign = HERE,
    on: On = None,
    yes: Yes = False,
    output: Print = Format.TEXT,
) -> None:
    """Show where each shop and lessor stands: no word, stopped, its counts, names handed over or forwarded.

    Each shop has a page of its own on which it confirms. With SHOP, what it says on the telephone is written down:
    --stopped --shelf N --sold N --names HOW --by NAME. A shop without a word is called on the first day.

    Addresses to forward are for people whose names a shop or lessor may not give us: each is unguessable and for one
    person, and who answers by it names unit and self. When they are forwarded: notices record WHO forwarded N. No
    unit counts as notified by that.
    """
    if forward:
        _pack(forward, count, to, campaign, output, yes=yes)
        return
    from notices.cli import shop_lines
    from notices.cli.entry.world import opened
    from notices.work import shop_standings

    word = _word(shop, called, by, (stopped, shelf, sold, names))
    with opened(campaign) as world:
        said = _write(world, shop, called, by, word) if shop else ""
        addresses = shop_standings.pages(world) if pages else {}
        found = shop_standings.standings(world, on=on)
    mine = [one for one in found if one.lets is None]
    silent = sum(one.case.stopped is None for one in mine)
    if output is Format.JSON:
        shown = [
            shop_standings.as_json(one) | ({"page": addresses.get(one.owner.owner_id)} if pages else {})
            for one in found
        ]
        say_json({"shops": shown, "silent": silent})
        return
    lines = [shop_lines.standing(one, addresses.get(one.owner.owner_id, "")) for one in found]
    say(
        "\n".join(
            [*([said] if said else []), *lines, f"{number(len(mine), 'shop')}, {silent} without a word."]
        )
    )


def _word(
    shop: str, called: str, by: str, said: tuple[bool | None, int | None, int | None, str]
) -> "Confirmation | None":
    """Return what a shop says, None where it was only called or nobody is named; end where a part is missing."""
    from notices.work.shop_words import Confirmation

    stopped, shelf, sold, names = said
    if (shop or called) and (not shop or not by.strip()):
        stop("say which shop, and who: notices owners shops SHOP … --by NAME")
    if called and called not in _OUTCOMES:
        stop(f"the outcome of a call is one of: {', '.join(_OUTCOMES)}")
    if not shop or called:
        return None
    if stopped is None or shelf is None or sold is None or names not in _NAMES:
        stop("say --stopped or --still-selling, --shelf N, --sold N and --names handed-over|forward")
    return Confirmation(by=by.strip(), stopped=stopped, shelf=shelf, sold=sold, names=_NAMES[names])


def _write(world: "World", shop: str, called: str, by: str, word: "Confirmation | None") -> str:
    """Write down what a shop said, or that it was called, and return what was written."""
    from notices.work import shop_words
    from notices.work.words import HearingError

    try:
        if word is None:
            return f"Written down: {shop_words.step_taken(world, shop, outcome=called, by=by)}, {called}."
        return f"Written down for {shop_words.confirm(world, shop, word)}."
    except HearingError as fault:
        warn(f"notices: {fault}")
        raise typer.Exit(MEND) from None


def _pack(who: str, count: int | None, to: Path | None, campaign: Path, output: Format, *, yes: bool) -> None:
    """Make the addresses, write them into the file, and say what was made."""
    from notices.cli.entry import exports
    from notices.cli.entry.world import by, opened
    from notices.work import forwarding
    from notices.work.words import HearingError

    if to is None or to.suffix.lower() not in SUFFIXES:
        stop("say which file the addresses go into: --to FILE, which ends in .csv or .xlsx")
    with opened(campaign) as world:
        if to.exists():
            ask(f"{to} is there already. Write over it?", yes=yes)
        try:
            pack = forwarding.make_pack(world, who, count=count, by=by())
        except HearingError as fault:
            warn(f"notices: {fault}")
            raise typer.Exit(MEND) from None
        exports.write(world, to, forwarding.as_view(pack))
    made = len(pack.addresses)
    if output is Format.JSON:
        say_json({"to": pack.to, "file": str(to), "addresses": made})
        return
    say(f"{number(made, 'address', 'addresses')} for {pack.to} in {to}: send it to nobody else.")
    say(f"When they are forwarded: notices record {_quoted(who)} forwarded N --by NAME")


def _quoted(text: str) -> str:
    return f'"{text}"' if " " in text else text
