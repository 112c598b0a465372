"""A code layout proposed from codes copied off real units, with what a person must confirm before it is used.

A handful of codes never proves how a marking is built. So every field comes back as a question, which *yes* makes
sure of, and what the codes cannot show is said.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain

from audiences import gs1
from audiences.check_characters import ALPHANUMERIC, DIGITS, NAMES, check_size
from audiences.codes import Layout, Parsed, Part, fold, read, read_by
from audiences.guessing import CheckGuess, Piece, check_of, date_of, elements_of, month_letter_of, text
from audiences.parts import PartKind, size_of
from audiences.telling import joined

_ENOUGH = 3  # codes, before anything can be told from them
_AMBIGUOUS = frozenset("IO")
_WHITE = " \t\r\n"
_BLANKS = "-\u2013\u2014 ./\u00b7"  # between which people write the groups of a code


@dataclass(frozen=True, kw_only=True, slots=True)
class Proposed:
    """What a few codes seem to be: the *layout*, the same *as_data* for ``code:``, and *questions* to its reader.

    *layout* is None where the codes have nothing in common that can be told; then *as_data* is empty and a
    question says so. *unread* holds the codes that the layout does not read, as they were given.
    """

    layout: Layout | None
    as_data: Mapping[str, object]
    questions: tuple[str, ...]
    unread: tuple[str, ...] = ()


_NOTHING = "These codes do not show how they are built. Can you copy at least three, from different units?"
_FEW = "Only {count} of the codes can show anything, and more would show more. Are you sure of what stands above?"


def propose(codes: Sequence[str]) -> Proposed:
    """Return the layout that *codes* (three to twenty, of one family) seem to have; nothing is taken for certain."""
    given = {fold(code): code.strip(_WHITE) for code in codes if fold(code)}
    marked = {key: code for key, code in given.items() if gs1.elements(code)}
    plain = {key: code for key, code in given.items() if key not in marked and _is_plain(key)}
    families = [elements_of(list(marked.values())), *map(_pieces, _groups(plain))]
    builds = [pieces for pieces in map(list, families) if any(piece.part.sort for piece in pieces)]
    layout = _layout(builds)
    readings = [] if layout is None else [read(layout, code) for code in given.values()]
    found = [reading for reading in readings if isinstance(reading, Parsed)]
    builds = [pieces for at, pieces in enumerate(builds) if layout and _first(layout, at, found)]
    layout = _layout(builds)
    if layout is None:
        return Proposed(layout=None, as_data={}, questions=(_NOTHING,), unread=tuple(given.values()))
    examples = [one for at in range(len(builds)) if (one := _first(layout, at, found))]
    unread = tuple(code for code in given.values() if not isinstance(read(layout, code), Parsed))
    few = [_FEW.format(count=len(given))] if len(given) < _ENOUGH else []
    strange = (
        [f"{joined(unread)}: built in another way. Is it of another product, or copied wrongly?"]
        if unread
        else []
    )
    asked = [piece.ask for piece in chain.from_iterable(builds) if piece.ask]
    return Proposed(
        layout=layout,
        as_data=_as_data(builds, examples),
        questions=(*map(_read_back, examples), *dict.fromkeys(asked), *few, *strange),
        unread=unread,
    )


def _is_plain(key: str) -> bool:
    """Tell whether a code can be written down and read again."""
    return key.isprintable() and not key.isspace()


def _as_data(builds: Sequence[Sequence[Piece]], examples: Sequence[Parsed]) -> Mapping[str, object]:
    layouts = [[dict(piece.data) for piece in pieces] for pieces in builds]
    shown = [{"code": _shown(code), **code.fields} for code in examples]
    if len(layouts) == 1:
        return {"layout": layouts[0], "example": shown[0]}
    return {"layouts": {f"build-{at}": parts for at, parts in enumerate(layouts, 1)}, "examples": shown}


def _layout(builds: Sequence[Sequence[Piece]]) -> Layout | None:
    parts = [tuple(piece.part for piece in pieces) for pieces in builds]
    return Layout(parts=parts[0], others=tuple(parts[1:])) if parts else None


def _first(layout: Layout, at: int, codes: Sequence[Parsed]) -> Parsed | None:
    """Return the first code that a build reads."""
    return next((code for code in codes if at in read_by(layout, code)), None)


def _shown(code: Parsed) -> str:
    return code.as_given if code.as_given.isprintable() else code.code_key


def _read_back(code: Parsed) -> str:
    fields = ", ".join(f"{name} {value}" for name, value in code.fields.items())
    return f"{_shown(code)} reads as {fields}. Is that right?"


def _groups(given: Mapping[str, str]) -> list[Mapping[str, str]]:
    """Return the codes that are equally long, the most first; a single one only where there is nothing else."""
    lengths: dict[int, dict[str, str]] = {}
    for key, code in given.items():
        lengths.setdefault(len(key), {})[key] = code
    found = sorted(lengths.values(), key=len, reverse=True)
    return [group for group in found if len(group) > 1] or [*found[:1]]


def _pieces(group: Mapping[str, str]) -> Iterator[Piece]:
    """Yield the parts of codes that are equally long, from left to right, each field with a name of its own."""
    keys = list(group)
    guess = check_of(keys)
    size = check_size(guess.scheme) if guess and guess.sure else 0
    bodies = [key[: len(key) - size] for key in keys]
    found = list(_stretches(bodies, _cuts(group), every_digit=bool(guess and size and guess.digits)))
    named = list(_named(list(_texts_joined(found))))
    yield from named
    if guess:
        yield from _check(guess, len(keys), [piece.part for piece in named])


def _texts_joined(pieces: Sequence[Piece]) -> Iterator[Piece]:
    """Join fixed texts beside each other that nothing is asked about."""
    held = ""
    for piece in pieces:
        if piece.part.kind == "text" and not piece.ask:
            held += piece.part.text
            continue
        yield from [text(held)] if held else []
        held = ""
        yield piece
    yield from [text(held)] if held else []


def _named(pieces: Sequence[Piece]) -> Iterator[Piece]:
    """Add a number to the name of a field where an earlier one has it."""
    seen: dict[str, int] = {}
    for piece in pieces:
        part = piece.part
        seen[part.name] = seen.get(part.name, 0) + 1
        if not part.sort or seen[part.name] == 1:
            yield piece
            continue
        name = f"{part.name}_{seen[part.name]}"
        numbered = Part(kind=part.kind, name=name, size=part.size, letters=part.letters, choices=part.choices)
        yield Piece(part=numbered, data={**piece.data, "field": name}, ask=piece.ask)


def _check(guess: CheckGuess, count: int, parts: Sequence[Part]) -> Iterator[Piece]:
    """Yield the check part, or the question whether there is one, as a part of nothing."""
    fits = f"The end of all {count} codes fits the check character {NAMES[guess.scheme]}"
    if not guess.sure:
        yield text("", f"{fits}, which may be chance. Is it to go unchecked until more codes show it?")
        return
    ask = f"{fits}. Is it one?"
    over = tuple(part.name for part in parts if part.sort and part.kind != "one_of") if guess.digits else ()
    data: dict[str, object] = {"check": guess.scheme}
    yield Piece(
        part=Part(kind="check", scheme=guess.scheme, over=over),
        data={**data, "over": list(over)} if over else data,
        ask=ask,
    )


def _cuts(group: Mapping[str, str]) -> frozenset[int]:
    """Return before which signs of the key people write a hyphen, space or dot, in every code that has any."""
    found = []
    for code in group.values():
        cuts = {len(fold(code[:at])) for at, sign in enumerate(code) if sign in _BLANKS}
        found += [cuts] if cuts else []
    return frozenset(set.intersection(*found)) if found else frozenset()


def _class(signs: Sequence[str]) -> str:
    """Return what stands at one place of all codes: digits, letters, either, or another sign."""
    seen = set(signs)
    if seen <= set(DIGITS):
        return "digits"
    if not seen <= set(ALPHANUMERIC):
        return "other"
    return "mixed" if seen & set(DIGITS) else "letters"


def _stretches(keys: Sequence[str], cuts: frozenset[int], *, every_digit: bool) -> Iterator[Piece]:
    """Yield the parts of stretches in which the same class of signs stands."""
    runs = list(_runs(keys, cuts))
    found_dates = ((run, *_date(keys, run, runs)) for run in runs if run[2] == "digits")
    begin, end, date = next(((run[0], end, date) for run, end, date in found_dates if date), (0, 0, ()))
    if date:
        later = [(max(end, run[0]), run[1], run[2]) for run in runs if run[1] > end]
        runs = [*(run for run in runs if run[1] <= begin), (begin, end, "date"), *later]
    for run in _merged(keys, runs, cuts):
        found = _cut(keys, run)
        same = len(set(found)) == 1
        if run[2] == "date":
            yield from date
        elif run[2] == "mixed":
            yield _number(found, "base_36" if _AMBIGUOUS & set("".join(found)) else "base_34")
        elif run[2] == "digits" and (every_digit or not same):
            yield _number(found, "digits")
        elif same:
            yield text(found[0], f"{found[0]}: always these digits?" if run[2] == "digits" else "")
        else:
            yield from _letters(found)


_Run = tuple[int, int, str]


def _date(keys: Sequence[str], run: _Run, runs: Sequence[_Run]) -> tuple[int, tuple[Piece, ...]]:
    """Return where the date ends that begins with *run*, and its parts; none where there is none."""
    begin, end, _ = run
    whole = end
    for other in runs:
        whole = other[1] if other[0] == whole and other[2] == "digits" else whole
    date = date_of(_cut(keys, (begin, whole, "")))
    if date:
        return begin + sum(size_of(piece.part) for piece in date), date
    lettered = end - begin == len("yy") and any(
        one[:2] == (end, end + 1) and one[2] == "letters" for one in runs
    )
    return end + 1, month_letter_of(_cut(keys, (begin, end + 1, ""))) if lettered else ()


def _runs(keys: Sequence[str], cuts: frozenset[int]) -> Iterator[_Run]:
    """Yield first and end of each stretch in which one class of signs stands, and the class."""
    classes = [_class(column) for column in zip(*keys, strict=True)]
    begin = 0
    for at in range(1, len(classes) + 1):
        if at == len(classes) or classes[at] != classes[begin] or at in cuts:
            yield begin, at, classes[begin]
            begin = at


def _merged(keys: Sequence[str], runs: Sequence[_Run], cuts: frozenset[int]) -> list[_Run]:
    """Join to a stretch of letters and digits the digits and changing letters beside it: they are one number."""
    merged: list[_Run] = []
    for run in runs:
        begin, end, kind = run
        last = merged[-1] if merged and begin not in cuts else (0, 0, "")
        number = "mixed" in {kind, last[2]} and {kind, last[2]} <= {"mixed", "digits"}
        changing = last[2] == "mixed" and kind == "letters" and len(set(_cut(keys, run))) > 1
        if number or changing:
            merged[-1] = (last[0], end, "mixed")
        else:
            merged.append(run)
    return merged


def _cut(keys: Sequence[str], run: _Run) -> list[str]:
    return [key[run[0] : run[1]] for key in keys]


def _number(found: Sequence[str], kind: PartKind) -> Piece:
    size = len(found[0])
    part = Part(kind=kind, name="number", size=size)
    if kind == "digits":
        return Piece(
            part=part, data={"field": "number", kind: size}, ask=f"{found[0]}: number {int(found[0])}?"
        )
    without = ", and are I and O left out" if kind == "base_34" else ""
    ask = f"{found[0]}: a running number of digits and letters{without}?"
    return Piece(part=part, data={"field": "number", kind: size}, ask=ask)


def _letters(found: Sequence[str]) -> Iterator[Piece]:
    """Yield one place with the letters seen, or the few texts that stand at several."""
    seen = sorted(set(found))
    ask = f"{joined(seen)}: are these all that stand at this place? A code with another one cannot be read."
    if len(found[0]) == 1:
        letters = "".join(seen)
        yield Piece(
            part=Part(kind="one_of", name="line", size=1, letters=letters),
            data={"field": "line", "one_of": letters},
            ask=ask,
        )
    elif len(seen) <= max(2, len(found) // 2):
        yield Piece(
            part=Part(kind="choice", name="line", choices=tuple(seen)),
            data={"field": "line", "choice": seen},
            ask=ask,
        )
    else:
        columns = ["".join(column) for column in zip(*found, strict=True)]
        for column in columns:
            yield text(column[0]) if len(set(column)) == 1 else next(_letters(column))
