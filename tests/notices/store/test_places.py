"""Where a register may lie, read from what the system says of its mounts (Linux: proc(5), filesystems(5))."""

from pathlib import Path

import pytest

from notices.cases.outgoing import RegisterError
from notices.store import open_register, places
from tests.registers import NOW

MOUNTS = """\
/dev/sda1 / ext4 rw,relatime 0 0
server:/home {here}/share nfs4 rw 0 0
//server/office {here}/my\\040office cifs rw 0 0
cloud {here}/kept fuse.cloud rw 0 0
/dev/sdb1 {here}/stick fuseblk rw 0 0
tmpfs {here}/share/local tmpfs rw 0 0
short
"""


@pytest.fixture
def mounts(tmp_path: Path) -> Path:
    here = tmp_path.resolve()
    for name in ("share/local", "my office", "kept", "stick", "shareware"):
        (here / name).mkdir(parents=True)
    file = here / "mounts"
    file.write_text(MOUNTS.format(here=here), "utf-8")
    return file


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("share", "nfs4"),
        ("my office", "cifs"),
        ("kept", "fuse.cloud"),
        ("stick", "fuseblk"),
        ("share/local", "tmpfs"),
        ("shareware", "ext4"),
        (".", "ext4"),
    ],
)
def test_the_innermost_mount_decides(name: str, kind: str, mounts: Path, tmp_path: Path) -> None:
    assert places.kind_of(tmp_path / name, mounts) == kind


def test_a_folder_reached_by_a_link_lies_where_the_link_leads(mounts: Path, tmp_path: Path) -> None:
    (tmp_path / "near").symlink_to(tmp_path / "share")

    assert places.kind_of(tmp_path / "near", mounts) == "nfs4"


def test_nothing_is_said_where_the_system_says_nothing(tmp_path: Path) -> None:
    assert places.kind_of(tmp_path, tmp_path / "no such file") == ""


def test_network_drives_and_drives_that_a_program_brings_are_told_apart() -> None:
    assert [places.is_network(kind) for kind in ("nfs", "cifs", "fuse.cloud", "ext4", "")] == [
        *(True, True),
        *(False, False, False),
    ]
    assert [places.is_doubtful(kind) for kind in ("nfs", "fuse.cloud", "fuseblk", "")] == [
        *(False, True),
        *(False, False),
    ]


@pytest.mark.parametrize("name", ["share", "my office"])
def test_no_register_is_kept_on_a_network_drive(name: str, mounts: Path, tmp_path: Path) -> None:
    address = str(tmp_path / name / "register.db")

    with pytest.raises(
        RegisterError, match=r"on a network drive .*to a disk of this machine, or let NOTICES_REGISTER"
    ):
        open_register(address, now=NOW, mounts=mounts)
    assert not Path(address).exists()


def test_a_register_may_lie_on_a_disk_inside_a_network_drive(mounts: Path, tmp_path: Path) -> None:
    register = open_register(str(tmp_path / "share/local/register.db"), now=NOW, mounts=mounts)
    register.close()

    assert (tmp_path / "share/local/register.db").is_file()
