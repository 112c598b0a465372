"""Which owners a person has decided to be one and the same, and which not; units stay under both.

The events of the owners' streams say so. What follows from them lies in one note, written with them, so that nobody
has to read every stream.
"""

import json
from dataclasses import dataclass

from audiences import canonical
from notices.work.ports import Transaction

_NOTE = "persons"
Two = tuple[str, str]


@dataclass(frozen=True, kw_only=True, slots=True)
class Persons:
    """*joined* and *parted* hold pairs of owners, each in order.

    *untold* holds a posting and an owner: it spoke of that owner's units to another, who is another person after all.
    """

    joined: frozenset[Two] = frozenset()
    parted: frozenset[Two] = frozenset()
    untold: frozenset[Two] = frozenset()

    def groups(self) -> dict[str, tuple[str, ...]]:
        """Return for each owner who was joined all who are the same person, in order."""
        found: dict[str, set[str]] = {}
        for pair in self.joined:
            group = set().union(pair, *(found.get(owner_id, ()) for owner_id in pair))
            found.update(dict.fromkeys(group, group))
        return {owner_id: tuple(sorted(group)) for owner_id, group in found.items()}

    def of(self, owner_id: str) -> tuple[str, ...]:
        """Return all owners who are the same person as this one, it among them, in order."""
        return self.groups().get(owner_id, (owner_id,))

    def counts(self, posting_id: str, owner_id: str) -> bool:
        """Say whether what a posting told of an owner's units was told to that owner."""
        return (posting_id, owner_id) not in self.untold


def pair_of(one: str, other: str) -> Two:
    """Return two owners in order."""
    return (one, other) if one < other else (other, one)


def persons(tx: Transaction) -> Persons:
    """Read what was decided."""
    noted = tx.safe.note(_NOTE)
    found = json.loads(noted) if noted else {}
    return Persons(**{name: frozenset(map(tuple, pairs)) for name, pairs in found.items()})


def put_persons(tx: Transaction, decided: Persons) -> None:
    """Write what was decided."""
    kept = {name: sorted(getattr(decided, name)) for name in ("joined", "parted", "untold")}
    tx.safe.put_note(_NOTE, canonical.dump(kept))
