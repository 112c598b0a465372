"""How the parts of a campaign nest: which part stands at a path, and every text in it."""

from collections.abc import Callable, Iterator, Mapping
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, TypeVar, Union, get_args, get_origin, get_type_hints

from notices.campaign.scalars import Part, Translatable

_P = TypeVar("_P", bound=Part)
Place = tuple[str | int, ...]
"""Where a value stands: keys and list places, from the outside in."""

Change = Callable[[Place, str], str]
"""Given the place of a text, and the text, return the text that takes its place."""


@cache
def hints(part: type[Part]) -> Mapping[str, object]:
    """Return what each attribute of a part may hold, marks included."""
    known = get_type_hints(part, include_extras=True)
    return {name: known[name] for name in part.model_fields}


def key_of(attribute: str) -> str:
    """Return the key in the file for an attribute."""
    return attribute.removesuffix("_")


def keys(part: type[Part]) -> tuple[str, ...]:
    """Return the keys that a part knows, in the order of the file."""
    return tuple(map(key_of, part.model_fields))


def path_of(place: Place) -> str:
    """Write a place as ``a.b[2].c``."""
    path = ""
    for step in place:
        path += f"[{step}]" if isinstance(step, int) else f".{step}"
    return path.lstrip(".")


def lies_in(path: str, *parts: str) -> bool:
    """Say whether *path* is one of *parts*, or lies inside one."""
    return any(path == part or path.startswith((f"{part}.", f"{part}[")) for part in parts)


def part_at(root: type[Part], place: Place) -> type[Part] | None:
    """Return the part that stands at *place* (keys and list places), or None where none does."""
    held: object = root
    for step in place:
        held = _inside(held, step)
    held = _bare(held)
    return held if isinstance(held, type) and issubclass(held, Part) else None


def _bare(hint: object) -> object:
    """Take marks and the possibility of None off a hint."""
    if get_origin(hint) is Annotated:
        return _bare(get_args(hint)[0])
    if get_origin(hint) in {Union, UnionType}:
        kept = [argument for argument in get_args(hint) if argument is not NoneType]
        return _bare(kept[0])
    return hint


def _inside(hint: object, step: str | int) -> object:
    """Return what stands one step further in."""
    bare = _bare(hint)
    origin = get_origin(bare)
    if origin in {tuple, dict}:
        return get_args(bare)[0 if origin is tuple else 1]
    if isinstance(bare, type) and issubclass(bare, Part):
        return next((held for name, held in hints(bare).items() if key_of(name) == step), None)
    return None


def _is_text(hint: object) -> bool:
    """Tell whether a hint, None taken off, is marked as a text that owners read."""
    if get_origin(hint) in {Union, UnionType}:
        return any(map(_is_text, get_args(hint)))
    return get_origin(hint) is Annotated and any(
        isinstance(mark, Translatable) for mark in get_args(hint)[1:]
    )


def rewritten(part: _P, change: Change, place: Place = ()) -> _P:
    """Return the part with every text that owners read put through *change*, in the order of the file."""
    update = {
        name: _rewritten(held, getattr(part, name), change, (*place, key_of(name)))
        for name, held in hints(type(part)).items()
    }
    return part.model_copy(update=update)


def texts(part: Part) -> Iterator[tuple[Place, str]]:
    """Yield the place and the text of every text that owners read, in the order of the file."""
    found: list[tuple[Place, str]] = []

    def note(place: Place, text: str) -> str:
        found.append((place, text))
        return text

    rewritten(part, note)
    yield from found


def _rewritten(hint: object, value: object, change: Change, place: Place) -> object:
    if isinstance(value, Part):
        return rewritten(value, change, place)
    if isinstance(value, tuple):
        held = get_args(_bare(hint))[0]
        return tuple(_rewritten(held, item, change, (*place, at)) for at, item in enumerate(value))
    if isinstance(value, dict):
        held = get_args(_bare(hint))[1]
        return {key: _rewritten(held, item, change, (*place, key)) for key, item in value.items()}
    if isinstance(value, str) and _is_text(hint):
        return change(place, value)
    return value
