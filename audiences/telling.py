"""A code layout in words: how a code looks, and what each stretch of one code means."""

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from audiences.builds import Build, Step
from audiences.check_characters import DIGITS, NAMES
from audiences.codes import Layout, Parsed
from audiences.parts import Part, signs_of, size_of, texts_of

MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
_NUMBERS = (
    "no",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
)
_ELEMENTS = {"01": "GTIN", "10": "batch", "11": "day of production", "21": "serial number"}
_DATES = frozenset({"year", "week", "month", "year_day", "day"})


def looks(parts: Sequence[Part]) -> str:
    """Return how a code of this build looks to a person who knows nothing of its meaning, in English."""
    elements = [element for element in dict.fromkeys(part.element for part in parts) if element]
    if elements:
        return f"It is a GS1 code: {joined([f'({one}) {_ELEMENTS[one]}' for one in elements])}."
    seen = list(_seen(parts))
    begins = seen and seen[0][1] == 0
    rest = [look if not count else f"{_counted(count)} {look}{'s' * (count > 1)}" for look, count in seen]
    if not begins:
        return f"It has {joined(rest)}."
    several = len(rest) > 2 or (len(seen) > 1 and seen[1][1] > 1)  # noqa: PLR2004 - the beginning and one more
    after = f" Then {'come' if several else 'comes'} {joined(rest[1:])}." if rest[1:] else ""
    return f"It begins with {rest[0]}.{after}"


def _seen(parts: Sequence[Part]) -> Iterator[tuple[str, int]]:
    """Yield what stands beside each other: fixed text and 0, or what kind of signs and how many."""
    held, count = "", 0
    for part in parts:
        if part.kind == "separator":
            continue
        texts = texts_of(part)
        look = joined(texts, "or") if texts else _class(part)
        if count and look != held:
            yield held, count
            count = 0
        held = look
        if texts:
            yield look, 0
        else:
            count += size_of(part)
    if count:
        yield held, count


def _class(part: Part) -> str:
    signs = set(signs_of(part))
    if signs <= set(DIGITS):
        return "digit"
    return "sign" if signs & set(DIGITS) or not all(map(str.isalpha, signs)) else "letter"


def _counted(count: int) -> str:
    return _NUMBERS[count] if count < len(_NUMBERS) else str(count)


def joined(words: Sequence[str], last: str = "and") -> str:
    """Return words as a list in English."""
    return f" {last} ".join([*([", ".join(words[:-1])] if words[1:] else []), *words[-1:]])


def meanings(layout: Layout, code: Parsed) -> tuple[str, ...]:
    """Return what each stretch of a code that the layout reads means, as ``2534: week 34 of 2025``."""
    build = next(build for build in layout.ready if not isinstance(build.fields(code.code_key), str))
    return tuple(_meanings(build, build.cut(code.code_key) or (), code))


def _meanings(build: Build, cut: Sequence[str], code: Parsed) -> Iterator[str]:
    pairs = list(zip(build.steps, cut, strict=True))
    dated = [(step.part, signs) for step, signs in pairs if step.part.sort in _DATES]
    if dated:
        yield f"{''.join(signs for _, signs in dated)}: {_date([part for part, _ in dated], code)}"
    for step, signs in pairs:
        if signs and step.part.sort not in _DATES:
            yield f"{signs}: {_meaning(step, code)}"


def _meaning(step: Step, code: Parsed) -> str:
    part = step.part
    if part.kind == "check":
        return f"check character, {NAMES[part.scheme]}"
    if not part.sort:
        return "always the same" if part.kind == "text" else "may be left out"
    if part.kind in {"base_34", "base_36"}:
        return f"{part.name} {code.fields[part.name]}, counted in base {part.kind[-2:]}"
    if part.kind == "one_of":
        return f"{part.name}, one of {joined(signs_of(part), 'or')}" + (
            " at each place" if size_of(part) > 1 else ""
        )
    if part.kind == "choice":
        return f"{part.name}, one of {joined(texts_of(part), 'or')}"
    return f"{part.name} {code.fields[part.name]}"


def _date(parts: Sequence[Part], code: Parsed) -> str:
    """Return the parts of a date in words."""
    found = {part.sort: int(code.fields[part.name]) for part in parts}
    year = found.get("year")
    of_year = "" if year is None else f" of {year}"
    if "week" in found:
        american = any(part.kind == "us_week" for part in parts)
        return f"week {found['week']}{of_year}{', as weeks are counted in the US' if american else ''}"
    if "year_day" in found:
        day = found["year_day"]
        told = "" if year is None else f", {_day(date(year, 1, 1) + timedelta(days=day - 1))}"
        return f"day {day}{of_year}{told}"
    month = MONTHS[found["month"] - 1] if "month" in found else ""
    day_of_month = str(found["day"]) if "day" in found else ""
    return " ".join(word for word in (day_of_month, month, "" if year is None else str(year)) if word)


def _day(day: date) -> str:
    return f"{day.day} {MONTHS[day.month - 1]}"
