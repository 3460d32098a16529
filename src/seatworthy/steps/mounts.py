"""What kind of drive a folder lies on, as far as this system tells; nothing is asked of the drive itself."""

import os
import platform
import re
import subprocess
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

NETWORK: Final = "network"
REMOVABLE: Final = "removable"

# Kinds as the systems name them (Linux: proc(5) and filesystems(5); macOS: mount(8)); from memory.
_NETWORK_KINDS: Final = frozenset(
    ("nfs", "nfs4", "cifs", "smb", "smb2", "smb3", "smbfs", "ncpfs", "afs", "afpfs")
    + ("webdav", "davfs", "coda", "ceph", "glusterfs", "lustre", "beegfs", "ocfs2", "gfs2")
    + ("9p", "drvfs", "prl_fs", "vboxsf", "vmhgfs")
)
_NETWORK_THROUGH_FUSE: Final = frozenset(
    ("sshfs", "rclone", "davfs2", "s3fs", "gcsfuse", "goofys", "glusterfs", "ceph", "gvfsd-fuse")
    + ("curlftpfs", "smbnetfs", "vmhgfs-fuse", "grpcfuse", "kio-fuse", "juicefs", "onedriver")
)
_REMOVABLE_PLACES: Final = ("/media/", "/run/media/")
_ESCAPED: Final = re.compile(r"\\([0-7]{3})")
_WINDOWS_KINDS: Final = {2: REMOVABLE, 4: NETWORK}


@dataclass(frozen=True)
class Mount:
    """A drive and where it hangs in the tree of folders.

    Attributes:
        place: The folder.
        kind: The file system's kind, such as "ext4" or "nfs4".
        device: Major and minor number, such as "8:1"; "" where unknown.
    """

    place: Path
    kind: str
    device: str = ""


def drive_kind(
    folder: Path, mounts: Iterable[Mount] | None = None, devices: Path = Path("/sys/dev/block")
) -> str:
    """Whether a folder lies on a drive of the network or on one that can be pulled out.

    Args:
        folder: Absolute, without links.
        mounts: What hangs where; None to ask this system.
        devices: Where Linux tells of its block devices.

    Returns:
        `NETWORK`, `REMOVABLE`, or "" for an ordinary drive or an unknown one.
    """
    if mounts is None and platform.system() == "Windows":
        return _windows_kind(folder)
    mount = mount_of(folder, mounts_here() if mounts is None else mounts)
    if mount is None:
        return ""
    if is_network(mount.kind):
        return NETWORK
    is_loose = mount.place.as_posix().startswith(_REMOVABLE_PLACES)
    return REMOVABLE if is_loose or _is_removable(devices, mount.device) else ""


def mount_of(folder: Path, mounts: Iterable[Mount]) -> Mount | None:
    """The drive that a folder lies on: the deepest above it, and of several there the last one."""
    found = None
    for mount in mounts:
        if folder.is_relative_to(mount.place) and (
            found is None or len(mount.place.parts) >= len(found.place.parts)
        ):
            found = mount
    return found


def is_network(kind: str) -> bool:
    """Whether a kind of file system is kept by another machine."""
    name = kind.casefold()
    through = name.removeprefix("fuse.")
    return name in _NETWORK_KINDS or (through != name and through in _NETWORK_THROUGH_FUSE)


def mounts_here() -> tuple[Mount, ...]:
    """What hangs where on this system; empty where it can't be told."""
    try:
        if platform.system() == "Linux":
            text = Path("/proc/self/mountinfo").read_text(encoding="utf-8", errors="replace")
            return tuple(read_mountinfo(text))
        if platform.system() == "Darwin":
            asked = ["/sbin/mount"]
            done = subprocess.run(asked, capture_output=True, text=True, timeout=2, check=True)
            return tuple(read_mount_lines(done.stdout))
    except (OSError, subprocess.SubprocessError):
        pass
    return ()


def read_mountinfo(text: str) -> Iterator[Mount]:
    """The drives in Linux's own list (proc(5), mountinfo); lines that are not like it are left out."""
    for line in text.splitlines():
        before, dash, after = line.partition(" - ")
        words, kinds = before.split(" "), after.split(" ")
        if dash and len(words) >= 5 and kinds[0]:
            place = _ESCAPED.sub(lambda found: chr(int(found[1], 8)), words[4])
            yield Mount(Path(place), kinds[0], words[2])


def read_mount_lines(text: str) -> Iterator[Mount]:
    """The drives in what macOS's mount prints: ``//somebody@box/beer on /Volumes/beer (smbfs, ...)``."""
    for line in text.splitlines():
        found = re.fullmatch(r".+? on (?P<place>/.*) \((?P<kind>[^,)]+).*\)", line)
        if found:
            yield Mount(Path(found["place"]), found["kind"])


def _is_removable(devices: Path, device: str) -> bool:
    """Whether Linux says so of the device, or of the one it is a part of."""
    if not device:
        return False
    try:
        own = (devices / device).resolve()
        marks = [folder / "removable" for folder in (own, own.parent)]
        return any(mark.is_file() and mark.read_text("ascii").strip() == "1" for mark in marks)
    except (OSError, ValueError):
        return False


def _windows_kind(folder: Path) -> str:
    import ctypes

    windll = getattr(ctypes, "windll", None)
    if windll is None:
        return ""
    if folder.drive.startswith("\\\\"):
        return NETWORK
    root = f"{folder.drive}{os.sep}"
    return _WINDOWS_KINDS.get(int(windll.kernel32.GetDriveTypeW(root)), "")
