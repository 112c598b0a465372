"""Who may import whom. The table is the whole truth: there is no list of exceptions."""

import ast
from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter

from tests import source
from tests.source import Module

PURE = ("audiences", "campaign", "wording", "cases", "compose", "figures")
_COMMANDS = {*PURE, "work"}
# Room -> the rooms it may import beside itself.
TABLE: dict[str, set[str]] = {
    "audiences": set(),
    "campaign": {"audiences"},
    "wording": {"audiences", "campaign"},
    "cases": {"audiences", "campaign"},
    "compose": {"audiences", "campaign", "wording", "cases"},
    "figures": {"audiences", "cases"},
    "store": {"audiences", "campaign", "cases"},
    "sending": {"audiences", "campaign", "cases"},
    "inbox": {"audiences", "campaign", "cases"},
    "spreadsheets": {"audiences"},
    "work": set(PURE),
    "respond": _COMMANDS,
    "bureau": _COMMANDS,
    "cli": _COMMANDS | {"entry"},
    "settings": set(),
    "shipped": set(),
    "assembly": {*_COMMANDS, "store", "sending", "inbox", "spreadsheets", "settings", "shipped"},
    "demo": _COMMANDS | {"assembly"},
    # The entry points of the commands: here they meet the world, the pages they serve and the demo they run.
    "entry": _COMMANDS | {"cli", "assembly", "settings", "respond", "bureau", "demo"},
}
ENTRY = "notices.cli.entry"

# The standard library's and others' doors to the world, by first name.
DOORS = frozenset(
    {
        "aiosmtpd",
        "asyncio",
        "concurrent",
        "ctypes",
        "fcntl",
        "fileinput",
        "ftplib",
        "getpass",
        "glob",
        "http",
        "httpx2",
        "imaplib",
        "keyring",
        "logging",
        "mailbox",
        "mmap",
        "multiprocessing",
        "os",
        "pathlib",
        "platform",
        "poplib",
        "psycopg",
        "random",
        "requests",
        "rich",
        "sched",
        "secrets",
        "select",
        "selectors",
        "shelve",
        "shutil",
        "signal",
        "smtplib",
        "socket",
        "socketserver",
        "sqlalchemy",
        "sqlite3",
        "ssl",
        "starlette",
        "subprocess",
        "sys",
        "tempfile",
        "threading",
        "time",
        "typer",
        "urllib",
        "uuid",
        "uvicorn",
        "webbrowser",
    }
)
# These are pure in spite of the first name.
PURE_PARTS = ("urllib.parse",)
CLOCKS = frozenset({"now", "today", "utcnow"})


def room_of(name: str) -> str:
    """Return the room of a module by its dotted name; the two outermost modules belong to none."""
    if name == ENTRY or name.startswith(f"{ENTRY}."):
        return "entry"
    first, _, rest = name.partition(".")
    return rest.partition(".")[0] if first == "notices" else first


def test_every_room_has_its_row_in_the_table() -> None:
    rooms = {room_of(module.name) for module in source.modules()} - {""}

    assert rooms <= TABLE.keys()


def test_a_room_imports_only_what_the_table_allows() -> None:
    faults = []
    for module in source.modules():
        room = room_of(module.name)
        for name, line in source.imports(module):
            if name.partition(".")[0] not in source.PACKAGES or not room_of(name):
                continue
            if room_of(name) != room and room_of(name) not in TABLE[room]:
                faults.append(f"{module.place}:{line}: {room} imports {name}")

    assert faults == []


def test_no_module_imports_itself_by_a_detour() -> None:
    known = {module.name for module in source.modules()}
    graph = {
        module.name: {name for name, _ in source.imports(module) if name in known and name != module.name}
        for module in source.modules()
    }
    cycle: list[str] = []
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as fault:
        cycle = fault.args[1]

    assert cycle == []


def test_a_pure_room_opens_no_door_to_the_world() -> None:
    faults = [fault for module in _pure_modules() for fault in _doors(module)]

    assert faults == []


def test_a_pure_room_reads_no_clock_and_no_file() -> None:
    faults = [fault for module in _pure_modules() for fault in _clocks_and_files(module)]

    assert faults == []


def test_only_assembly_and_the_entry_points_name_concrete_adapters() -> None:
    named = {
        room_of(module.name)
        for module in source.modules()
        for name, _ in source.imports(module)
        if room_of(name) in {"store", "sending", "inbox", "spreadsheets"}
        and room_of(name) != room_of(module.name)
    }

    assert named <= {"assembly"}


def _pure_modules() -> Iterator[Module]:
    return (module for module in source.modules() if room_of(module.name) in PURE)


def _doors(module: Module) -> Iterator[str]:
    for name, line in source.imports(module):
        if name.partition(".")[0] in DOORS and name not in PURE_PARTS:
            yield f"{module.place}:{line}: imports {name}"


def _clocks_and_files(module: Module) -> Iterator[str]:
    for node in ast.walk(module.tree):
        if not isinstance(node, ast.Call):
            continue
        called = node.func
        if isinstance(called, ast.Attribute) and called.attr in CLOCKS:
            yield f"{module.place}:{node.lineno}: reads the clock with {called.attr}()"
        if isinstance(called, ast.Attribute) and called.attr in {
            "open",
            "open_text",
            "read_text",
            "read_bytes",
        }:
            yield f"{module.place}:{node.lineno}: reads a file with {called.attr}()"
        if isinstance(called, ast.Name) and called.id in {"open", "input", "print"}:
            yield f"{module.place}:{node.lineno}: calls {called.id}()"
