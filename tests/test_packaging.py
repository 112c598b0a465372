"""What is shipped is what git holds, and it starts where nothing of the source tree is near."""

import os
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

from tests import needs, source

_INCLUDED = ("notices/", "audiences/", "templates/", "locales/", "tests/")
_ALONE = {"README.md", "DEVELOPERS.md", "pyproject.toml", ".gitignore"}
_MOVED = {"templates/": "notices/templates/", "locales/": "notices/locales/"}


def _git(*words: str) -> list[str]:
    git = needs.command("git", debian="git")
    done = subprocess.run(
        [git, "-c", "safe.directory=*", *words, "-z"],
        cwd=source.ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    if done.returncode != 0:
        needs.missing("this tree is no clone")
    return [name for name in done.stdout.split("\0") if name]


@pytest.fixture(scope="module")
def tracked() -> list[str]:
    """Return the files that git holds and that stand in the tree."""
    return [name for name in _git("ls-files") if (source.ROOT / name).is_file()]


@pytest.fixture(scope="module")
def built(tracked: list[str], tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build sdist and wheel from git's files alone, the wheel from the sdist; return the folder of both."""
    place = tmp_path_factory.mktemp("packaging")
    tree = place / "tree"
    for name in tracked:
        (tree / name).parent.mkdir(parents=True, exist_ok=True)
        (tree / name).write_bytes((source.ROOT / name).read_bytes())
    done = subprocess.run(
        [sys.executable, "-m", "build", "--no-isolation", "--outdir", str(place / "dist"), str(tree)],
        capture_output=True,
        text=True,
        check=False,
        cwd=place,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return place / "dist"


@pytest.fixture(scope="module")
def installed(built: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Install the wheel, without its dependencies, into a folder of its own."""
    place = tmp_path_factory.mktemp("installed")
    wheel = next(built.glob("*.whl"))
    subprocess.run(
        [
            sys.executable,
            "-m",
            "pip",
            "install",
            "-q",
            "--no-deps",
            "--no-index",
            "--target",
            str(place),
            str(wheel),
        ],
        check=True,
        cwd=place,
    )
    return place


def _run(installed: Path, *words: str) -> subprocess.CompletedProcess[str]:
    """Run a program of the installed copy, with its folder first and the source tree nowhere in sight."""
    environment = {**os.environ, "PYTHONPATH": str(installed), "COLUMNS": "40"}
    return subprocess.run(
        [sys.executable, *words],
        capture_output=True,
        text=True,
        check=False,
        cwd=installed.parent,
        env=environment,
    )


def test_git_ignores_no_file_that_the_program_needs() -> None:
    ignored = _git(
        "ls-files",
        "--others",
        "--ignored",
        "--exclude-standard",
        "--",
        *source.PACKAGES,
        "templates",
        "locales",
    )

    assert [name for name in ignored if "__pycache__" not in name] == []


def test_the_wheel_holds_every_file_of_the_packages_and_no_other(built: Path, tracked: list[str]) -> None:
    wheel = next(built.glob("*.whl"))
    with zipfile.ZipFile(wheel) as opened:
        shipped = {name for name in opened.namelist() if ".dist-info/" not in name}

    wanted = {name for name in tracked if name.startswith(("notices/", "audiences/"))}
    wanted |= {
        new + name.removeprefix(old)
        for old, new in _MOVED.items()
        for name in tracked
        if name.startswith(old)
    }
    assert shipped == wanted


def test_the_source_distribution_holds_all_that_is_needed_to_build_and_test(
    built: Path, tracked: list[str]
) -> None:
    with tarfile.open(next(built.glob("*.tar.gz"))) as opened:
        shipped = {name.partition("/")[2] for name in opened.getnames()}

    assert shipped - {"PKG-INFO"} == {
        name for name in tracked if name.startswith(_INCLUDED) or name in _ALONE
    }


def test_the_installed_command_starts(installed: Path) -> None:
    done = _run(installed, str(installed / "bin" / "notices"), "--help")

    assert (done.returncode, done.stderr) == (0, "")
    assert "demo" in done.stdout


def test_the_installed_copy_reads_its_own_texts(installed: Path, tracked: list[str]) -> None:
    program = (
        "import notices; from notices import assembly\n"
        "print(notices.__file__)\n"
        "print(len(assembly.templates()), len(assembly.catalogues()), len(assembly.expressions()))"
    )
    done = _run(installed, "-c", program)
    templates = sum(name.startswith("templates/") for name in tracked)
    catalogues = sum(name.startswith("locales/") and name.endswith((".po", ".csv")) for name in tracked)
    tables = sum(name.startswith("notices/wording/expressions/") for name in tracked)

    assert done.stderr == ""
    assert done.stdout == f"{installed / 'notices' / '__init__.py'}\n{templates} {catalogues} {tables}\n"
