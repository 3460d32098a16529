"""Where a store should not lie."""

import os
import sys
from pathlib import Path

import pytest

from seatworthy.steps.mounts import (
    NETWORK,
    REMOVABLE,
    Mount,
    drive_kind,
    is_network,
    mount_of,
    mounts_here,
    read_mount_lines,
    read_mountinfo,
)
from seatworthy.steps.places import place_warnings

WRITTEN = r"""22 1 8:1 / / rw,relatime shared:1 - ext4 /dev/sda1 rw
23 22 0:21 / /proc rw - proc proc rw
30 22 0:50 / /srv/beer rw,relatime shared:7 master:2 - nfs4 box:/beer rw,vers=4.2,addr=192.0.2.5
31 30 8:17 / /srv/beer/here rw - ext4 /dev/sdb1 rw
32 22 0:51 / /mnt/our\040share rw - cifs //box/our\040share rw,vers=3.1.1
33 22 0:52 / /home/ada/far rw,nosuid - fuse.sshfs ada@box:/far rw
34 22 8:33 / /media/ada/STICK rw - vfat /dev/sdc1 rw
35 22 0:53 / /win/disk rw - fuseblk /dev/sdd1 rw
36 22 0:54 / /both rw - ext4 /dev/sde1 rw
37 36 0:55 / /both rw - 9p host rw
a line of something else
"""


@pytest.fixture
def mounts():
    return tuple(read_mountinfo(WRITTEN))


@pytest.mark.parametrize(
    ("folder", "kind"),
    [
        ("/", ""),
        ("/home/ada", ""),
        ("/srv/beer", NETWORK),
        ("/srv/beer/panel", NETWORK),
        ("/srv/beer/here/panel", ""),
        ("/srv/beeriest", ""),
        ("/mnt/our share/panel", NETWORK),
        ("/home/ada/far", NETWORK),
        ("/media/ada/STICK/panel", REMOVABLE),
        ("/win/disk", ""),
        ("/both", NETWORK),
    ],
)
def test_a_folder_is_on_the_deepest_drive_above_it(mounts, folder, kind):
    assert drive_kind(Path(folder), mounts, Path("/none")) == kind


def test_a_list_of_linux_is_read_and_what_is_not_like_it_left_out(mounts):
    assert len(mounts) == 10
    assert mounts[2] == Mount(Path("/srv/beer"), "nfs4", "0:50")
    assert mount_of(Path("/elsewhere"), ()) is None


def test_a_list_of_macos_is_read():
    lines = (
        "/dev/disk3s1s1 on / (apfs, sealed, local, read-only, journaled)\n"
        "//ada@box._smb._tcp.local/our beer on /Volumes/our beer (smbfs, nodev, nosuid, mounted by ada)\n"
        "map auto_home on /System/Volumes/Data/home (autofs, automounted, nobrowse)\n"
        "nothing\n"
    )
    found = tuple(read_mount_lines(lines))
    assert [mount.kind for mount in found] == ["apfs", "smbfs", "autofs"]
    assert drive_kind(Path("/Volumes/our beer/panel"), found) == NETWORK
    assert drive_kind(Path("/Volumes/else"), found) == ""


@pytest.mark.parametrize(
    ("kind", "is_it"),
    [("NFS", True), ("smb3", True), ("fuse.rclone", True), ("fuse", False), ("sshfs", False),
     ("fuse.ntfs-3g", False), ("ext4", False), ("btrfs", False), ("overlay", False), ("", False)],
)  # fmt: skip
def test_a_kind_of_the_network_is_told_from_one_of_this_machine(kind, is_it):
    assert is_network(kind) == is_it


@pytest.mark.skipif(sys.platform == "win32", reason="links need rights there")
def test_a_stick_is_known_by_what_linux_says_of_its_disk(tmp_path):
    disk = tmp_path / "disk"
    (disk / "part").mkdir(parents=True)
    (tmp_path / "8:1").symlink_to(disk / "part")
    mounts = [Mount(Path("/"), "vfat", "8:1")]
    assert drive_kind(Path("/x"), mounts, tmp_path) == ""
    (disk / "removable").write_text("0\n")
    assert drive_kind(Path("/x"), mounts, tmp_path) == ""
    (disk / "removable").write_text("1\n")
    assert drive_kind(Path("/x"), mounts, tmp_path) == REMOVABLE
    (disk / "removable").write_bytes(b"\xff")
    assert drive_kind(Path("/x"), mounts, tmp_path) == ""


@pytest.mark.skipif(sys.platform != "linux", reason="other systems are asked otherwise")
def test_this_system_says_what_hangs_where():
    assert mount_of(Path.cwd(), mounts_here()) is not None


@pytest.mark.parametrize(
    "folder",
    ["Dropbox", "OneDrive - Our Brewery", "Google Drive", "iCloudDrive", "Nextcloud2", "MEGAsync",
     "Mobile Documents/com~apple~CloudDocs", "CloudStorage/Anything"],
)  # fmt: skip
def test_a_folder_of_a_sync_program_is_known_by_its_name(tmp_path, folder):
    (found,) = place_warnings(tmp_path / folder / "beer" / "panel.duckdb", ())
    assert f"“{Path(folder).parts[0]}”" in found
    assert "put backups there instead" in found


@pytest.mark.parametrize("folder", ["Megan", "Dropboxer", "beer", "syncthings"])
def test_a_folder_that_is_only_called_alike_is_none(tmp_path, folder):
    assert place_warnings(tmp_path / folder / "panel.duckdb", ()) == ()


@pytest.mark.parametrize("mark", [".stfolder", ".dropbox.cache", ".owncloudsync.log"])
def test_a_folder_of_a_sync_program_is_known_by_its_mark(tmp_path, mark):
    (tmp_path / "ours" / "beer").mkdir(parents=True)
    (tmp_path / "ours" / mark).mkdir()
    (found,) = place_warnings(tmp_path / "ours" / "beer" / "panel.duckdb", ())
    assert "“ours”" in found


def test_settings_in_a_home_are_no_mark_but_a_file_is(tmp_path):
    (tmp_path / ".dropbox").mkdir()
    assert place_warnings(tmp_path / "panel.duckdb", ()) == ()
    (tmp_path / ".dropbox").rmdir()
    (tmp_path / ".dropbox").touch()
    assert len(place_warnings(tmp_path / "panel.duckdb", ())) == 1


def test_the_folder_that_windows_names_is_known(tmp_path, monkeypatch):
    monkeypatch.setitem(os.environ, "ONEDRIVE", str(tmp_path / "cloud"))
    assert len(place_warnings(tmp_path / "cloud" / "panel.duckdb", ())) == 1
    assert place_warnings(tmp_path / "panel.duckdb", ()) == ()


def test_a_drive_of_the_network_and_a_stick_have_their_sentences(tmp_path):
    on_network, on_stick = ([Mount(tmp_path, kind)] for kind in ("cifs", "vfat"))
    assert "a drive of the network" in place_warnings(tmp_path / "panel.duckdb", on_network)[0]
    assert place_warnings(tmp_path / "panel.duckdb", on_stick) == ()
    stick = Path("/media/ada/STICK")
    found = place_warnings(stick / "panel.duckdb", [Mount(stick, "vfat")])
    assert "Stop Seatworthy before you do" in found[0]
