"""How the parts of a campaign nest: which part stands at a path, and every text in it."""

from collections.abc import Callable, Mapping
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, TypeVar, Union, get_args, get_origin, get_type_hints

from notices.campaign.scalars import Part, Translatable

_P = TypeVar("_P", bound=Part)
Change = Callable[[str, str], str]
"""Given the path of a text without list places, and the text, return the text that takes its place."""


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


def part_at(root: type[Part], place: tuple[str | int, ...]) -> type[Part] | None:
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
    return get_origin(hint) is Annotated and any(isinstance(mark, Translatable) for mark in get_args(hint)[1:])


def rewritten(part: _P, change: Change, path: str = "") -> _P:
    """Return the part with every text that owners read put through *change*, in the order of the file."""
    update = {
        name: _rewritten(held, getattr(part, name), change, f"{path}.{key_of(name)}".lstrip("."))
        for name, held in hints(type(part)).items()
    }
    return part.model_copy(update=update)


def _rewritten(hint: object, value: object, change: Change, path: str) -> object:
    if isinstance(value, Part):
        return rewritten(value, change, path)
    if isinstance(value, tuple):
        return tuple(_rewritten(get_args(_bare(hint))[0], item, change, path) for item in value)
    if isinstance(value, dict):
        held = get_args(_bare(hint))[1]
        return {key: _rewritten(held, item, change, f"{path}.{key}") for key, item in value.items()}
    if isinstance(value, str) and _is_text(hint):
        return change(path, value)
    return value
