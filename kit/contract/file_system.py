"""Does a folder lie on a disk of this machine? Locks of a file on a network drive can't be relied on."""

from pathlib import Path

from kit.errors import Fault, LedgerError

__all__ = ["require_own_disk"]

_MOUNTS = Path("/proc/mounts")
_OVER_A_NETWORK = {"afs", "ceph", "cifs", "fuse.sshfs", "glusterfs", "ncpfs", "nfs", "nfs4", "smb3", "smbfs"}


def require_own_disk(folder: Path, file: str) -> None:
    """Refuse a folder on a network drive, where the system tells (Linux); UNC paths are refused everywhere. Raises LedgerError in words, with what to do."""
    kind = _kind_of(folder.resolve())
    if kind in _OVER_A_NETWORK or str(folder).startswith(("\\\\", "//")):
        sentence = f"would lie on a network drive ({kind or 'a share'}), where two people could write at once without knowing. Keep the jobs on a local disk."
        raise LedgerError(Fault("", sentence, file))


def _kind_of(folder: Path) -> str:
    """The kind of file system that holds a folder; "" where the system does not tell."""
    try:
        words = [line.split() for line in _MOUNTS.read_text(encoding="utf-8", errors="replace").splitlines()]
    except OSError:
        return ""
    mounts = [(line[1].replace("\\040", " "), line[2]) for line in words if len(line) > 2]  # a name may hold what other systems end a line with
    holding = [(place, kind) for place, kind in mounts if folder.is_relative_to(place)]
    return max(holding, key=lambda mount: len(mount[0]), default=("", ""))[1]
