"""What is missing, in plain text: the sum, then the shops and their months."""

from collections.abc import Iterator, Sequence

from notices.figures.gaps import Gap, Gaps


def lines(found: Gaps) -> Iterator[str]:
    """Yield the sum in a sentence, then a row a shop and month."""
    if found.sold is None:
        yield f"{found.listed} units stand on the lists; how many were sold is not known."
    elif found.sold < found.listed:
        yield f"{found.listed} units stand on the lists, {found.listed - found.sold} more than the {found.sold} sold."
    else:
        yield f"{found.sold} sold - {found.listed} on the lists = {found.unknown} that nobody knows."
    if found.shops:
        yield ""
        yield from _table(_rows(found))
        yield ""


def _rows(found: Gaps) -> Iterator[tuple[str, ...]]:
    yield ("sold by", "month", "sold", "listed", "unknown")
    for shop in found.shops:
        mine = [gap for gap in found.months if gap.shop == shop.shop]
        for gap in mine:
            yield (_shop(gap), gap.month or "no day of sale", *_figures(gap))
        if len(mine) != 1 or shop.by_word:
            yield (_shop(shop), "all, it says" if shop.by_word else "all", *_figures(shop))


def _shop(gap: Gap) -> str:
    return gap.shop or "not said by whom"


def _figures(gap: Gap) -> tuple[str, str, str]:
    return (
        "-" if gap.sold is None else str(gap.sold),
        str(gap.listed),
        "-" if gap.unknown is None else str(gap.unknown),
    )


def _table(rows: Iterator[Sequence[str]]) -> Iterator[str]:
    lines = list(rows)
    widths = [max(map(len, column)) for column in zip(*lines, strict=True)]
    for line in lines:
        named = [cell.ljust(width) for cell, width in zip(line[:2], widths[:2], strict=True)]
        counted = [cell.rjust(width) for cell, width in zip(line[2:], widths[2:], strict=True)]
        yield "  ".join([*named, *counted]).rstrip()
