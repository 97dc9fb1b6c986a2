"""Takes up photos in parts and keeps them whole.

A photo counts as here once its file stands under its own hash: written, fsynced, renamed, and the
folder fsynced too. Only then may anyone be told so; a crash before that leaves a part to go on from.
"""

from __future__ import annotations

import errno
import fcntl
import hashlib
import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from sporeline.errors import Clash, NotValid, StorageFull, TooLarge

LARGEST = 12 * 1024 * 1024
"""Bytes of one photo."""


class WrongOffset(Clash):
    """The part sent does not begin where the bytes that are here end."""

    code = "wrong-offset"
    message = "This part of the photo does not follow on what is here; nothing was added."
    fix = "Go on from `Upload-Offset` of this answer."

    def __init__(self, offset: int) -> None:
        super().__init__()
        self.offset = offset


class WrongHash(NotValid):
    """The bytes are not those that the name promises; the part is thrown away."""

    code = "wrong-hash"
    message = "The photo arrived damaged and was thrown away. The phone still has it."
    fix = "Send it again from the beginning."


@dataclass(frozen=True)
class Offset:
    """How many bytes are here, and whether that is all of it."""

    bytes: int
    complete: bool


class PhotoStore:
    """Files below `folder`: `{logbook}/{first two}/{sha256}`, parts beside them in `parts/`."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def offset(self, logbook: str, sha256: str) -> Offset | None:
        """How much of a photo is here; None: nothing."""
        for path, complete in (
            (self._whole(logbook, sha256), True),
            (self._part(logbook, sha256), False),
        ):
            if path.exists():
                return Offset(path.stat().st_size, complete)
        return None

    def has(self, logbook: str, sha256: str) -> bool:
        """Whether the whole photo is here."""
        return self._whole(logbook, sha256).exists()

    def path(self, logbook: str, sha256: str) -> Path | None:
        """The file of a whole photo."""
        whole = self._whole(logbook, sha256)
        return whole if whole.exists() else None

    def append(
        self, logbook: str, sha256: str, at: int, content: bytes, last: bool | None
    ) -> Offset:
        """Add a part that begins at byte `at`.

        last: True, the photo ends here; False, more comes; None, it ends here if the hash fits.
        :raise WrongOffset: the part does not follow on what is here.
        :raise WrongHash: it ended and the bytes are not those of its name; the part is gone.
        :raise TooLarge: more than `LARGEST`. :raise StorageFull: no room; what was here stays.
        """
        if self.has(logbook, sha256):
            return Offset(self._whole(logbook, sha256).stat().st_size, True)
        part = self._part(logbook, sha256)
        with _named_errors(), _held(part) as file:
            size = os.fstat(file).st_size
            if at != size:
                raise WrongOffset(size)
            if size + len(content) > LARGEST:
                raise TooLarge
            _write(file, size, content)
            return self._end(logbook, sha256, file, size + len(content), last)

    def _end(self, logbook: str, sha256: str, file: int, size: int, last: bool | None) -> Offset:
        """Give a finished part its name."""
        if last is False:
            return Offset(size, False)
        part, whole = self._part(logbook, sha256), self._whole(logbook, sha256)
        if _hash(file) == sha256:
            whole.parent.mkdir(parents=True, exist_ok=True)
            os.rename(part, whole)
            _sync_folder(whole.parent)
            return Offset(size, True)
        if last is None:
            return Offset(size, False)
        part.unlink()
        raise WrongHash

    def _whole(self, logbook: str, sha256: str) -> Path:
        return self._folder / logbook / sha256[:2] / sha256

    def _part(self, logbook: str, sha256: str) -> Path:
        return self._folder / logbook / "parts" / sha256


@contextmanager
def _held(part: Path) -> Iterator[int]:
    """The part's file, made if need be, held against another sender of the same photo."""
    part.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    file = os.open(part, os.O_RDWR | os.O_CREAT, 0o600)
    try:
        fcntl.flock(file, fcntl.LOCK_EX)
        yield file
    finally:
        os.close(file)


def _write(file: int, at: int, content: bytes) -> None:
    """All of `content`, on the disk when this returns. After a failure the file is as before."""
    try:
        written = 0
        while written < len(content):
            written += os.pwrite(file, content[written:], at + written)
        os.fsync(file)
    except OSError:
        os.ftruncate(file, at)
        raise


def _hash(file: int) -> str:
    digest, at = hashlib.sha256(), 0
    while piece := os.pread(file, 1 << 20, at):
        digest.update(piece)
        at += len(piece)
    return digest.hexdigest()


def _sync_folder(folder: Path) -> None:
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


@contextmanager
def _named_errors() -> Iterator[None]:
    try:
        yield
    except OSError as wrong:
        if wrong.errno in {errno.ENOSPC, errno.EDQUOT}:
            raise StorageFull from wrong
        raise
