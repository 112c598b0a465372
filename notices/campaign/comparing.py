"""What differs between two revisions of a campaign: value by value, and list of codes by list of codes."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

from audiences import canonical
from audiences.code_lists import CodeList
from notices.campaign.models import Campaign
from notices.campaign.revisions import Revision

Value = str | int | bool


@dataclass(frozen=True, kw_only=True, slots=True)
class Change:
    """One value that differs; None where it is not there. *path* is ``a.b[2].c``, with the later list places."""

    path: str
    before: Value | None
    after: Value | None


@dataclass(frozen=True, kw_only=True, slots=True)
class ListChange:
    """One file of codes that differs: how many codes it has gained and lost."""

    file: str
    gained: int
    lost: int


def lists_changed(before: Revision, after: Revision) -> tuple[ListChange, ...]:
    """Return every list of codes that differs between two revisions, by file."""
    none = CodeList("")
    files = sorted(before.lists.keys() | after.lists.keys())
    pairs = [(file, before.lists.get(file, none), after.lists.get(file, none)) for file in files]
    return tuple(
        ListChange(
            file=file,
            gained=sum(code not in was for code in now),
            lost=sum(code not in now for code in was),
        )
        for file, was, now in pairs
        if was != now
    )


def changed(before: Campaign, after: Campaign) -> tuple[Change, ...]:
    """Return every value that differs, in the order of the file; what a list gained or lost shifts nothing."""
    return tuple(_differing("", _plain(before), _plain(after)))


def _plain(campaign: Campaign) -> object:
    return campaign.model_dump(mode="json", by_alias=True, exclude_none=True)


def _differing(path: str, before: object, after: object) -> Iterator[Change]:
    if isinstance(before, Mapping) and isinstance(after, Mapping):
        yield from _order(path, before, after)
        for key in dict.fromkeys([*before, *after]):
            inner = f"{path}.{key}".lstrip(".")
            yield from _differing(inner, before.get(key), after.get(key))
    elif isinstance(before, list) and isinstance(after, list):
        yield from _lists(path, before, after)
    elif before != after:
        was, now = dict(_leaves(path, before)), dict(_leaves(path, after))
        for inner in dict.fromkeys([*was, *now]):
            yield Change(path=inner, before=was.get(inner), after=now.get(inner))


def _order(path: str, before: Mapping[str, object], after: Mapping[str, object]) -> Iterator[Change]:
    """Say where the keys of both stand in another order: which remedy comes first is part of what is said."""
    was = [key for key in before if key in after]
    now = [key for key in after if key in before]
    if was != now:
        yield Change(path=path, before=", ".join(was), after=", ".join(now))


def _lists(path: str, before: Sequence[object], after: Sequence[object]) -> Iterator[Change]:
    """Pair what is equal; what stands between is compared place by place, then gained or lost."""
    pairing = SequenceMatcher(
        None,
        [canonical.dump(item) for item in before],
        [canonical.dump(item) for item in after],
        autojunk=False,
    )
    for _, first, end, new_first, new_end in pairing.get_opcodes():
        old, new = before[first:end], after[new_first:new_end]
        for step in range(max(len(old), len(new))):
            was = old[step] if step < len(old) else None
            now = new[step] if step < len(new) else None
            yield from _differing(f"{path}[{new_first + step}]", was, now)


def _leaves(path: str, value: object) -> Iterator[tuple[str, Value]]:
    """Yield every value below *path*."""
    if isinstance(value, Mapping):
        for key, item in value.items():
            yield from _leaves(f"{path}.{key}".lstrip("."), item)
    elif isinstance(value, list):
        for place, item in enumerate(value):
            yield from _leaves(f"{path}[{place}]", item)
    elif isinstance(value, str | int):
        yield path, value
