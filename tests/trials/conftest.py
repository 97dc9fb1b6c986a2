"""The seed of a run, a served logbook, and phones that have joined it."""

from __future__ import annotations

import os
import random
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from served import Served

from .phone import Phone


@pytest.fixture
def seed() -> int:
    """The seed of this run, printed; TRIAL_SEED repeats one."""
    drawn = int(os.environ.get("TRIAL_SEED") or random.SystemRandom().randrange(10**9))
    print(f"TRIAL_SEED={drawn}")
    return drawn


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    """A real server process on its own data folder."""
    with Served(tmp_path / "data") as server:
        yield server


@pytest.fixture
def joined(served: Served, seed: int) -> Callable[[str], Phone]:
    """Makes a phone that has joined the logbook."""

    def join(name: str) -> Phone:
        phone = Phone(served.url, name, seed)
        phone.join(served.invite("owner"))
        return phone

    return join
