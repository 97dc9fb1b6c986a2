"""Parts, wholes, and what a crash or a full disk leaves."""

from __future__ import annotations

import errno
import hashlib
import os
from pathlib import Path

import pytest

from sporeline.errors import StorageFull, TooLarge
from sporeline.photos import LARGEST, Offset, PhotoStore, WrongHash, WrongOffset

PICTURE = os.urandom(70_000)
NAME = hashlib.sha256(PICTURE).hexdigest()


@pytest.fixture
def store(tmp_path: Path) -> PhotoStore:
    return PhotoStore(tmp_path / "photos")


def test_a_photo_in_parts_is_whole_at_the_end(store: PhotoStore) -> None:
    assert store.append("l", NAME, 0, PICTURE[:30_000], False) == Offset(30_000, False)
    assert store.offset("l", NAME) == Offset(30_000, False)
    assert store.path("l", NAME) is None
    assert store.append("l", NAME, 30_000, PICTURE[30_000:], True) == Offset(70_000, True)
    path = store.path("l", NAME)
    assert path is not None
    assert path.read_bytes() == PICTURE


def test_without_a_word_on_the_end_the_hash_tells(store: PhotoStore) -> None:
    assert store.append("l", NAME, 0, PICTURE[:1000], None) == Offset(1000, False)
    assert store.append("l", NAME, 1000, PICTURE[1000:], None) == Offset(70_000, True)


def test_a_part_that_does_not_follow_is_refused_with_the_true_offset(store: PhotoStore) -> None:
    store.append("l", NAME, 0, PICTURE[:500], False)
    for wrong in (0, 499, 501):
        with pytest.raises(WrongOffset) as told:
            store.append("l", NAME, wrong, PICTURE[500:], True)
        assert told.value.offset == 500


def test_other_bytes_than_the_name_promises_are_thrown_away(store: PhotoStore) -> None:
    with pytest.raises(WrongHash):
        store.append("l", NAME, 0, PICTURE[:-1] + b"x", True)
    assert store.offset("l", NAME) is None


def test_a_whole_photo_sent_again_changes_nothing(store: PhotoStore) -> None:
    store.append("l", NAME, 0, PICTURE, True)
    assert store.append("l", NAME, 0, b"something else", True) == Offset(70_000, True)


def test_another_logbook_has_its_own_photos(store: PhotoStore) -> None:
    store.append("l", NAME, 0, PICTURE, True)
    assert store.offset("m", NAME) is None


def test_too_large_is_refused_and_what_was_here_stays(store: PhotoStore) -> None:
    store.append("l", NAME, 0, b"abc", False)
    with pytest.raises(TooLarge):
        store.append("l", NAME, 3, bytes(LARGEST), True)
    assert store.offset("l", NAME) == Offset(3, False)


def test_a_full_disk_leaves_the_part_as_it_was(
    store: PhotoStore, monkeypatch: pytest.MonkeyPatch
) -> None:
    store.append("l", NAME, 0, PICTURE[:1000], False)
    monkeypatch.setattr(os, "fsync", _no_room)
    with pytest.raises(StorageFull):
        store.append("l", NAME, 1000, PICTURE[1000:], True)
    monkeypatch.undo()
    assert store.offset("l", NAME) == Offset(1000, False)
    assert store.append("l", NAME, 1000, PICTURE[1000:], True).complete


def _no_room(_: int) -> None:
    raise OSError(errno.ENOSPC, "no room")
