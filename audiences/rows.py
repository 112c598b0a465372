"""One row of a table into one listed owner and unit, with a finding for each cell that cannot be used."""

from collections.abc import Callable, Iterator, Mapping, MutableSequence
from typing import Literal, TypeVar

from audiences import addresses, cells, row_faults
from audiences.cleaning import lines, one_line
from audiences.findings import Finding
from audiences.headings import part_of
from audiences.owners import ContactPoint, ListedRow, Place
from audiences.stored import StoredCells, digits_lost
from audiences.tables import Table, TableRow

_Found = TypeVar("_Found")
_Columns = tuple[tuple[int, str], ...]  # where each stands, and its heading
_GLUED = frozenset({("street", "number"), ("postcode", "town"), ("town", "postcode")})  # share a postal line


class RowReader:
    """Reads the rows of one table by its columns; a column that the table does not have reads as empty."""

    def __init__(
        self, *, table: Table, by_meaning: Mapping[str, tuple[str, ...]], default_country: str | None
    ) -> None:
        """Look the columns up once for all rows."""
        place = {heading: index for index, heading in enumerate(table.headings)}
        self._file = table.file
        self._default_country = default_country
        self._columns: dict[str, _Columns] = {
            meaning: tuple((place[heading], heading) for heading in headings if heading in place)
            for meaning, headings in by_meaning.items()
        }
        names = self._columns.get("name", ())
        self._company = [index for index, heading in names if part_of(heading) == "company"]
        self._name = [index for index, heading in names if part_of(heading) != "company"]
        self._address = [(index, part_of(heading)) for index, heading in self._columns.get("address", ())]
        self._read = [index for columns in self._columns.values() for index, _ in columns]
        what = {
            index: ("postcode" if part_of(heading) == "postcode" else meaning, heading)
            for meaning, columns in self._columns.items()
            for index, heading in columns
        }
        self._stored = StoredCells(self._file, what)

    def read(self, row: TableRow, findings: MutableSequence[Finding]) -> ListedRow | None:
        """Return the listed row, or None where it says nothing; *findings* grows by what is wrong."""
        place = Place(file=self._file, row=row.number)
        if not any(one_line(row.cells[index]) for index in self._read):
            findings.append(row_faults.says_nothing(place))
            return None
        given = self._given(row, findings)
        reading = _Reading(given, self._columns, place, findings)
        country = self._default_country
        if reading.text("country"):
            country = reading.seen("country", cells.country, row_faults.country_unknown)
        company, name = reading.joined(self._company), reading.joined(self._name)
        assumed: Literal["person", "firm"] = "firm" if company else "person"
        return ListedRow(
            place=place,
            sale=reading.text("sale"),
            code=reading.text("code"),
            name=reading.name(company or name),
            kind=reading.seen("kind", cells.kind, row_faults.kind_unknown) or assumed,
            customer=reading.text("customer"),
            email=reading.contact("email", addresses.email, row_faults.email_unusable),
            phone=reading.contact("phone", self._phone(row, country), row_faults.phone_unusable),
            address=reading.postal(self._address, country),
            country=country,
            language=reading.seen("language", cells.language, row_faults.language_unknown),
            sold_on=reading.seen("sold_on", cells.day, row_faults.day_unreadable),
            sold_in=reading.seen("sold_in", cells.country, row_faults.country_unknown),
            shop=reading.text("shop") if "shop" in self._columns else None,
            role=reading.seen("role", cells.role, row_faults.role_unknown)
            if "role" in self._columns
            else None,
            raw=row.cells,
        )

    def _given(self, row: TableRow, findings: MutableSequence[Finding]) -> tuple[str, ...]:
        """Return the cells of a row, those that have lost digits in a spreadsheet emptied."""
        stored = row.stored or self._stored.told_by(row.cells)
        if not stored:
            return row.cells
        self._stored.count(row.number, stored)
        lost = self._stored.lost(stored)
        findings.extend(digits_lost(self._file, row.number, self._stored.heading(column)) for column in lost)
        return tuple("" if column in lost else cell for column, cell in enumerate(row.cells))

    def _phone(self, row: TableRow, country: str | None) -> Callable[[str], ContactPoint]:
        numbers = self._stored.numbers("phone", row) if row.stored else frozenset()
        return lambda text: (addresses.phone_of_number if text in numbers else addresses.phone)(text, country)

    def end(self) -> Iterator[Finding]:
        """Yield what there is to say of whole columns once every row is read."""
        return self._stored.findings()


class _Reading:
    """The cells of one row by their meaning, and where its faults go."""

    __slots__ = ("_cells", "_columns", "_findings", "_place")

    def __init__(
        self,
        given: tuple[str, ...],
        columns: Mapping[str, _Columns],
        place: Place,
        findings: MutableSequence[Finding],
    ) -> None:
        self._cells = given
        self._columns = columns
        self._place = place
        self._findings = findings

    def _filled(self, meaning: str) -> Iterator[tuple[str, str]]:
        for index, heading in self._columns.get(meaning, ()):
            text = one_line(self._cells[index])
            if text:
                yield text, heading

    def text(self, meaning: str) -> str | None:
        """Return the first filled cell, None where all are empty."""
        return next((text for text, _ in self._filled(meaning)), None)

    def joined(self, indexes: list[int]) -> str:
        """Return the filled cells, a space between them."""
        return " ".join(text for index in indexes if (text := one_line(self._cells[index])))

    def name(self, text: str) -> str:
        """Return a name that fits, with a finding where it was cut."""
        if len(text) > row_faults.LONGEST_NAME:
            self._findings.append(row_faults.name_too_long(self._place, self._columns["name"][0][1]))
        return text[: row_faults.LONGEST_NAME]

    def seen(
        self,
        meaning: str,
        read: Callable[[str], _Found | None],
        fault: Callable[[Place, str], Finding],
    ) -> _Found | None:
        """Return what the first filled cell says; None with a finding where it cannot be read."""
        for text, heading in self._filled(meaning):
            found = read(text)
            if found is None:
                self._findings.append(fault(self._place, heading))
            return found
        return None

    def contact(
        self,
        meaning: str,
        read: Callable[[str], ContactPoint],
        fault: Callable[[Place, str, str], Finding],
    ) -> ContactPoint | None:
        """Return the first usable contact point, else the first one with a finding: listed, not dropped."""
        unusable: tuple[ContactPoint, Finding] | None = None
        for text, heading in self._filled(meaning):
            point = read(text)
            if point.fault is None:
                if point.doubtful:
                    self._findings.append(row_faults.phone_doubtful(self._place, heading))
                return point
            unusable = unusable or (point, fault(self._place, heading, addresses.FAULTS[point.fault]))
        if unusable is None:
            return None
        self._findings.append(unusable[1])
        return unusable[0]

    def postal(self, columns: list[tuple[int, str]], country: str | None) -> tuple[str, ...]:
        """Return the postal lines; house number and street, postcode and town share one."""
        found: list[str] = []
        before = ""
        for index, part in columns:
            cell = lines(self._cells[index])
            if len(cell) == 1 and found and (before, part) in _GLUED:
                found[-1] = f"{found[-1]} {cell[0]}"
            else:
                found.extend(cell)
            before = part if cell else ""
        if found and (fault := addresses.letter(found, country).fault):
            heading = self._columns["address"][0][1]
            self._findings.append(row_faults.address_unusable(self._place, heading, addresses.FAULTS[fault]))
        return tuple(found)
