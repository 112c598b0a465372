"""How each owner behaves once a mail has arrived: drawn from the seed, in the proportions of the scenario."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum
from random import Random

from audiences.segments import Segment
from notices.demo.owners import Owner


class Habit(StrEnum):
    """What somebody does with the notice."""

    ANSWERS = "answers on the page"
    PRESSES = "presses the button and leaves"
    IN_USE = "says that it is still in use"
    BY_MAIL = "answers by mail"
    CHANGES = "answers twice, and otherwise the second time"
    READS_B_AS_D = "reads B as D"
    FORWARDS = "forwards the mail to a school group"
    SOLD_ON = "has sold it on"
    RINGS = "is 84, rings, and has a daughter who helps"
    HURT = "writes of an injury, in Polish"
    WRITES = "writes by hand"
    SILENT = "says nothing"


@dataclass(frozen=True, kw_only=True, slots=True)
class Person:
    """One owner and their ways: how each unit was used, which remedy they want, who shall fit it.

    *slips* says that they misread their code at first, *finds* that they find a code the lists do not hold,
    *returns* that they come back for the remedy once it can be promised.
    """

    owner: Owner
    habit: Habit
    uses: tuple[Segment, ...]
    remedy: str
    fitter: str
    slips: bool
    finds: bool
    returns: bool


_USES = (Segment.RIDDEN_NO_SYMPTOMS, Segment.UNRIDDEN, Segment.SYMPTOMATIC, Segment.UNKNOWN)
_WEIGHTS = (62, 15, 12, 11)
_MISREADERS = 9
_CHANGING = (Segment.RIDDEN_NO_SYMPTOMS, Segment.UNRIDDEN)


def _plain(owner: Owner) -> bool:
    """Say whether an owner has one unit of line B whose code the lists hold, and a mailbox like any other."""
    return _single(owner) and owner.units[0].coded


def _single(owner: Owner) -> bool:
    return len(owner.units) == 1 and owner.units[0].line == "B" and owner.mailbox == "good"


def _uncoded(owner: Owner) -> bool:
    return _single(owner) and not owner.units[0].coded


def _in(*countries: str) -> Callable[[Owner], bool]:
    return lambda owner: _plain(owner) and owner.country in countries


def _with_phone(owner: Owner) -> bool:
    return _plain(owner) and bool(owner.phone)


def _good(owner: Owner) -> bool:
    return owner.mailbox == "good" and not owner.firm


# Which habit, how many, whom it fits.
_SPECIAL: tuple[tuple[Habit, int, Callable[[Owner], bool]], ...] = (
    (Habit.READS_B_AS_D, 1, _uncoded),
    (Habit.HURT, 1, _in("PL")),
    (Habit.WRITES, 1, _in("FR")),
    (Habit.RINGS, 1, lambda owner: _with_phone(owner) and owner.country == "GB"),
    (Habit.FORWARDS, 1, _in("IE", "GB")),
    (Habit.SOLD_ON, 3, _in("IE", "GB", "DE", "NL")),
    (Habit.IN_USE, 7, _with_phone),
    (Habit.CHANGES, 6, _plain),
    (Habit.BY_MAIL, 8, _good),
    (Habit.PRESSES, 14, _good),
)


def made(owners: Iterable[Owner], rng: Random) -> list[Person]:
    """Return everybody whom mail reaches, each with a habit; about half of them say something within a week."""
    reached = [owner for owner in owners if owner.gets_mail]
    rng.shuffle(reached)
    habits: dict[str, Habit] = {}
    for habit, count, fits in _SPECIAL:
        for owner in _chosen(reached, habits, count, fits):
            habits[owner.name] = habit
    speaking = round(rng.uniform(0.46, 0.54) * len(reached))
    rest = [owner for owner in reached if owner.name not in habits]
    rest.sort(key=lambda owner: not owner.firm)  # the firm's fleet desk answers in any case
    for owner in rest[: speaking - len(habits)]:
        habits[owner.name] = Habit.ANSWERS
    misreading = [owner.name for owner in rest if habits.get(owner.name) is Habit.ANSWERS and _plain(owner)]
    slips = set(rng.sample(misreading, _MISREADERS))
    return [
        _person(owner, habits.get(owner.name, Habit.SILENT), rng, slips=owner.name in slips)
        for owner in reached
    ]


def _chosen(
    reached: list[Owner], habits: dict[str, Habit], count: int, fits: Callable[[Owner], bool]
) -> list[Owner]:
    """Return *count* owners without a habit yet, those whom it fits first, then others of one unit of line B."""
    free = [owner for owner in reached if owner.name not in habits]
    fitting = [owner for owner in free if fits(owner)]
    others = [owner for owner in free if _plain(owner) and owner not in fitting]
    return (fitting + others)[:count]


def _person(owner: Owner, habit: Habit, rng: Random, *, slips: bool) -> Person:
    uses = tuple(rng.choices(_USES, _WEIGHTS)[0] for _ in owner.units)
    if habit is Habit.CHANGES:
        uses = (rng.choice(_CHANGING),)
    return Person(
        owner=owner,
        habit=habit,
        uses=uses,
        remedy="repair" if rng.random() < 0.86 else "refund",  # noqa: PLR2004 - most want to keep it
        fitter="owner" if rng.random() < 0.5 else "mechanic",  # noqa: PLR2004 - some like to do it themselves
        slips=slips,
        finds=rng.random() < 0.75,  # noqa: PLR2004 - most find it
        returns=rng.random() < 0.7,  # noqa: PLR2004 - most come back
    )
