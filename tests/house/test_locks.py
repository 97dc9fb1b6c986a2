"""The locks fit what is asked for, carry hashes, and no file names a registry or this machine."""

from __future__ import annotations

import json
import re
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from tests.house.planting import ROOT
from tests.house.test_tree import FILES

PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
EXTRAS = PROJECT["project"]["optional-dependencies"]
RUNTIME = PROJECT["project"]["dependencies"]
BUILD = PROJECT["build-system"]["requires"]
WANTED = {
    "requirements.lock": [*RUNTIME, *EXTRAS["postgresql"]],
    "requirements-dev.lock": [*RUNTIME, *EXTRAS["dev"]],
    "requirements-outside.lock": [*RUNTIME, *EXTRAS["outside"]],
    "requirements-build.lock": BUILD,
}
PIN = re.compile(r"^([A-Za-z0-9._-]+)==([^ ;\\]+)", re.MULTILINE)
# Written so that this file does not hold what it looks for.
REGISTRY = re.compile(
    r"registry\.[a-z]+(?:js|pkg)\.|\bpypi\.(?:org|python)|files\.python" + r"hosted|deb\.debian\."
    r"|--(?:extra-)?index" + r"-url|--find" + r"-links",
)
MACHINE = re.compile(r"(?<![\w.])/(?:work|root)/|/tmp/" + r"spec|\.\./" + r"shared/")


def pins(lock: str) -> dict[str, str]:
    text = (ROOT / "deploy" / lock).read_text("utf-8")
    return {canonicalize_name(name): version for name, version in PIN.findall(text)}


@pytest.mark.parametrize("lock", WANTED)
def test_a_lock_fits_what_is_asked_for(lock: str) -> None:
    locked = pins(lock)
    for requirement in map(Requirement, WANTED[lock]):
        version = locked.get(canonicalize_name(requirement.name))
        assert version, f"{requirement} is not in deploy/{lock}: run ./deploy/lock"
        assert requirement.specifier.contains(version, prereleases=True), (
            f"run ./deploy/lock: {requirement}"
        )


def test_one_package_has_one_version_in_all_locks() -> None:
    seen: dict[str, str] = {}
    for lock in WANTED:
        for name, version in pins(lock).items():
            assert seen.setdefault(name, version) == version, f"{name} in {lock}"


@pytest.mark.parametrize("lock", WANTED)
def test_every_pin_has_hashes_and_no_lock_an_address(lock: str) -> None:
    text = (ROOT / "deploy" / lock).read_text("utf-8")
    assert "://" not in text
    for block in re.split(r"^(?=[A-Za-z0-9])", text, flags=re.MULTILINE)[1:]:
        assert "--hash=sha256:" in block, block[:60]


def test_the_phone_lock_pins_everything_without_an_address() -> None:
    packages = json.loads((ROOT / "pwa/package-lock.json").read_text("utf-8"))["packages"]
    for name, entry in packages.items():
        assert "resolved" not in entry, name
        assert name == "" or entry.get("integrity", "").startswith("sha512-"), name


def test_the_phone_lock_is_of_this_package_file() -> None:
    asked = json.loads((ROOT / "pwa/package.json").read_text("utf-8"))
    locked = json.loads((ROOT / "pwa/package-lock.json").read_text("utf-8"))["packages"][""]
    for kind in ("dependencies", "devDependencies"):
        assert locked[kind] == asked[kind], "run npm install in pwa/"
        assert all(version[0].isdigit() for version in asked[kind].values())


@pytest.mark.parametrize("pattern", [REGISTRY, MACHINE], ids=["registry", "machine"])
def test_no_file_names_it(pattern: re.Pattern[str]) -> None:
    found = []
    for file in FILES:
        try:
            text = Path(ROOT / file).read_text("utf-8")
        except UnicodeDecodeError:
            continue
        found += [f"{file}: {match[0]}" for match in pattern.finditer(text)]
    assert found == []
