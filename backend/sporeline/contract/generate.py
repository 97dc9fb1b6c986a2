"""Writes the phone's twin of the contract into `pwa/src/contract/`.

    python -m sporeline.contract.generate            writes what differs
    python -m sporeline.contract.generate --check    writes nothing; exit 1 when something differs

`api.ts` is made from the OpenAPI description by openapi-typescript, when `--openapi FILE` is given.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from sporeline import errors
from sporeline.contract import typescript

HERE = Path(__file__).parent
REPOSITORY = HERE.parents[2]
TARGET = REPOSITORY / "pwa" / "src" / "contract"
BY_HAND = frozenset(("README.md", "taxa.ts"))
"""Files of the phone's room that are written, not generated."""

TABLES = ("genera", "species", "groups")


def generated() -> dict[str, str]:
    """Path below the phone's room to text, of everything but `api.ts`."""
    texts = {path.stem: path.read_text("utf-8") for path in (HERE / "texts").glob("*.json")}
    plans = {path.stem: path.read_text("utf-8") for path in (HERE / "plans").glob("*.json")}
    return {
        "kinds.ts": typescript.kinds_module(),
        "errors.ts": typescript.errors_module(_wire_codes(errors.SporelineError)),
        "taxa.json": _taxa(),
        "texts/index.ts": typescript.texts_module(texts),
        **{f"texts/{name}.json": text for name, text in texts.items()},
        "plans/index.ts": typescript.plans_module(plans),
        **{f"plans/{name}.json": text for name, text in plans.items()},
    }


def drift(expected: dict[str, str], target: Path) -> list[str]:
    """Files below `target` that differ, are missing, or are nobody's."""
    differing = [name for name, text in expected.items() if _read(target / name) != text]
    present = {str(path.relative_to(target)) for path in target.rglob("*") if path.is_file()}
    return sorted({*differing, *(present - expected.keys() - BY_HAND)})


def write(expected: dict[str, str], target: Path) -> list[str]:
    """Bring `target` up to date; gives what was changed or removed."""
    changed = drift(expected, target)
    for name in changed:
        path = target / name
        if name in expected:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(expected[name], "utf-8")
        else:
            path.unlink()
    return changed


def main(arguments: list[str] | None = None) -> int:
    """The command; gives its exit status."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--check", action="store_true", help="write nothing, exit 1 on drift")
    parser.add_argument("--openapi", type=Path, help="an openapi.json to make api.ts from")
    asked = parser.parse_args(arguments)
    expected = generated()
    api = _api_types(asked.openapi) if asked.openapi else _read(TARGET / "api.ts")
    if api is not None:
        expected["api.ts"] = api
    changed = (drift if asked.check else write)(expected, TARGET)
    for name in changed:
        print(f"{'differs' if asked.check else 'wrote'}: pwa/src/contract/{name}")
    return 1 if asked.check and changed else 0


def _api_types(openapi: Path) -> str:
    program = REPOSITORY / "pwa" / "node_modules" / ".bin" / "openapi-typescript"
    done = subprocess.run([program, openapi], capture_output=True, text=True, check=True)
    return typescript.HEADER + done.stdout


def _taxa() -> str:
    """The tables, compact, one row a line."""
    tables = {
        name: json.loads((HERE / "taxa" / f"{name}.json").read_text("utf-8")) for name in TABLES
    }
    return (
        "{" + ",\n".join(f'"{name}":[\n{_rows(rows)}\n]' for name, rows in tables.items()) + "}\n"
    )


def _rows(rows: list[dict[str, object]]) -> str:
    return ",\n".join(json.dumps(row, ensure_ascii=False, separators=(",", ":")) for row in rows)


def _wire_codes(base: type[errors.SporelineError]) -> Iterator[str]:
    for kind in base.__subclasses__():
        if kind.__module__ == errors.__name__:  # further ones depend on what happens to be loaded
            yield kind.code
            yield from _wire_codes(kind)


def _read(path: Path) -> str | None:
    return path.read_text("utf-8") if path.is_file() else None


if __name__ == "__main__":
    sys.exit(main())
