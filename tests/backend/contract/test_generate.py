"""The phone's twin is as generated, and drift is found."""

from __future__ import annotations

from pathlib import Path

from sporeline.contract import generate
from sporeline.contract.kinds import KINDS


def test_the_committed_twin_is_up_to_date() -> None:
    assert generate.main(["--check"]) == 0


def test_drift_is_found_and_mended(tmp_path: Path) -> None:
    expected = generate.generated()
    assert generate.write(expected, tmp_path) == sorted(expected)
    assert generate.drift(expected, tmp_path) == []
    (tmp_path / "kinds.ts").write_text("// by hand", "utf-8")
    (tmp_path / "texts" / "gone.json").write_text("{}", "utf-8")
    assert generate.drift(expected, tmp_path) == ["kinds.ts", "texts/gone.json"]
    generate.write(expected, tmp_path)
    assert generate.drift(expected, tmp_path) == []
    assert not (tmp_path / "texts" / "gone.json").exists()


def test_every_kind_has_its_type() -> None:
    text = generate.generated()["kinds.ts"]
    assert all(f'\t"{name}": {{' in text for name, _ in KINDS)
    assert "\t\ttaxon: string | null;" in text
    assert '\t\tqualifier?: "cf" | "aff" | "ex" | null;' in text
    assert "\t\tfrom?: string | null;" in text
