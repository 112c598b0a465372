"""What there is to say of a list as a file: what it is not, what it lacks, and which of its rows are left out."""

from audiences.findings import Finding, Severity

LARGEST_LIST = 256 << 20  # bytes; more than a million rows
SAVE_AS = "save the list again as CSV in UTF-8"


def list_empty(file: str) -> Finding:
    """Say that nothing in the file tells which column holds what."""
    return Finding(
        code="list-empty",
        file=file,
        message="the list has no headings",
        mend="put them in the first line",
    )


def list_without_rows(file: str, line: int) -> Finding:
    """Say that nothing stands below the headings."""
    return Finding(
        code="list-without-rows",
        file=file,
        line=line,
        message="the list has headings and no rows below them",
        mend="export the list again with its rows",
    )


def list_too_large(file: str) -> Finding:
    """Say that the file is larger than any list."""
    return Finding(
        code="list-too-large",
        file=file,
        message=f"the file is larger than {LARGEST_LIST >> 20} MiB and is not read",
        mend="leave out what is no list, or part it into several and import each under its own name",
    )


def not_readable(file: str, line: int | None = None) -> Finding:
    """Say that the character set of the list is not known."""
    return Finding(
        code="list-not-utf-8",
        file=file,
        line=line,
        message="the list is written in no character set that is known",
        mend=SAVE_AS,
    )


def not_a_list(file: str, line: int) -> Finding:
    """Say that the file is a page, a document or a message."""
    return Finding(
        code="list-is-no-list",
        file=file,
        line=line,
        message="this is a web page, a document or another program's file, and no list",
        mend="open it where it came from and save it as CSV in UTF-8, or as a spreadsheet",
    )


def encoding_guessed(file: str, line: int, name: str) -> Finding:
    """Say that nothing in the file names its encoding."""
    return Finding(
        code="list-encoding-guessed",
        file=file,
        line=line,
        message=f"the list does not say in which character set it is written; it is read as {name}",
        mend=f"look at a name with an umlaut or accent; where it is wrong, {SAVE_AS}",
        severity=Severity.CONSIDER,
    )


def row_broken(file: str, number: int, why: str) -> Finding:
    """Say that a row cannot be parted into cells."""
    return Finding(
        code="row-broken",
        file=file,
        line=number,
        message=f"the row is left out: {why}",
        mend=f"mend the row, or {SAVE_AS}",
    )


def row_is_headings(file: str, number: int) -> Finding:
    """Say that the headings stand in the list a second time."""
    return Finding(
        code="row-is-headings",
        file=file,
        line=number,
        message="the row repeats the headings and is passed over",
        mend="nothing, if two lists were joined; see that both have the same columns",
        severity=Severity.CONSIDER,
    )
