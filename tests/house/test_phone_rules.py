"""Every rule for the phone's side, broken on purpose: the checker must go red."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from tests.house.planting import ROOT, Copy, copy_of, copy_of_phone

# rule of dependency-cruiser, file in pwa/src, what it holds
PLANTED = [
    ("contract-looks-down", "contract/planted.ts", 'import "../kernel/code";'),
    ("kernel-looks-down", "kernel/planted.ts", 'import "../reckoning/planted";'),
    ("reckoning-looks-down", "reckoning/planted.ts", 'import "../sync/ports";'),
    ("sync-looks-down", "sync/planted.ts", 'import "../records/desk";'),
    ("sync-looks-down", "sync/planted-too.ts", 'import "../storage/planted";'),
    ("records-looks-down", "records/planted.ts", 'import "../parts/planted";'),
    ("parts-looks-down", "parts/planted.ts", 'import "../screens/planted";'),
    ("screens-looks-down", "screens/planted.ts", 'import type {} from "../storage/planted";'),
    ("rooms-are-known", "app/planted.ts", 'import "../utils/planted";'),
    ("plugs-see-only-ports", "storage/planted.ts", 'import "../transport/planted";'),
    ("plugs-see-only-ports", "transport/planted.ts", 'import "../records/desk";'),
    ("worker-is-its-own-bundle", "service-worker/planted.ts", 'import "../records/desk";'),
    ("nobody-imports-the-worker", "app/planted-too.ts", 'import "../service-worker/planted";'),
    ("one-database-owner", "records/planted-too.ts", 'import "dexie";'),
    ("stays-in-the-house", "app/planted-three.ts", 'import "../../../tests/pwa/planted";'),
    ("resolves", "app/planted-four.ts", 'import "./nowhere";'),
    ("no-orphans", "kernel/planted-alone.ts", "export {};"),
    ("no-cycles", "app/planted-five.ts", 'import "./planted-six";'),
]


def cruise(copy: Copy) -> dict[str, Any]:
    program = "dependency-cruiser/bin/dependency-cruiser.mjs"
    settings = ("--config", "dependency-cruiser.cjs", "--output-type", "json")
    told: dict[str, Any] = json.loads(copy.node(program, *settings, "src").words)["summary"]
    return told


@pytest.fixture(scope="module")
def cruised(tmp_path_factory: pytest.TempPathFactory) -> set[tuple[str, str]]:
    """(rule, file) of every violation, all of them planted at once."""
    copy = copy_of_phone(tmp_path_factory.mktemp("planted"))
    for empty in ("tests/pwa/planted.ts", "pwa/src/utils/planted.ts"):
        copy.plant(empty, "export {};\n")
    copy.plant("pwa/src/app/planted-six.ts", 'import "./planted-five";\n')
    for _, file, text in PLANTED:
        copy.plant(f"pwa/src/{file}", text + "\n")
    return {(found["rule"]["name"], found["from"]) for found in cruise(copy)["violations"]}


def test_the_phone_as_it_is_breaks_no_rule_and_was_seen(tmp_path: Path) -> None:
    told = cruise(copy_of_phone(tmp_path))
    assert told["violations"] == []
    sources = [*(ROOT / "pwa/src").rglob("*.ts"), *(ROOT / "pwa/src").rglob("*.tsx")]
    assert told["totalCruised"] >= len(sources) > 0


@pytest.mark.parametrize(("rule", "file", "text"), PLANTED)
def test_a_forbidden_import_breaks_its_rule(
    cruised: set[tuple[str, str]], rule: str, file: str, text: str
) -> None:
    assert any(name == rule and file in source for name, source in cruised), sorted(cruised)


def test_every_rule_has_a_planted_violation(tmp_path: Path) -> None:
    copy = copy_of(tmp_path, "pwa/dependency-cruiser.cjs")
    ask = 'console.log(JSON.stringify(require("./dependency-cruiser.cjs").forbidden))'
    rules = json.loads(copy.run("node", "-e", ask, folder="pwa").words)
    assert {rule for rule, _, _ in PLANTED} == {rule["name"] for rule in rules}
    assert {rule["severity"] for rule in rules} == {"error"}


# expression, part of the message, the room that alone may hold it
BARRED = [
    ("Date.now()", "clock", "app"),
    ("new Date()", "clock", "app"),
    ("performance.now()", "clock", "app"),
    ("Math.random()", "randomness", "app"),
    ("crypto.getRandomValues(new Uint8Array(1))", "randomness", "app"),
    ("crypto.randomUUID()", "ids", "app"),
    ("globalThis.crypto.randomUUID()", "ids", "app"),
    ('fetch("/api")', "transport/", "transport"),
    ('fetch("/api", {})', "transport/", "transport"),
    ('globalThis.fetch("/api")', "transport/", "transport"),
    ('window.fetch("/api")', "transport/", "transport"),
    ("new XMLHttpRequest()", "transport/", "transport"),
    ('new WebSocket("/api")', "transport/", "transport"),
    ('navigator.sendBeacon("/api")', "transport/", "transport"),
    ('indexedDB.open("x")', "storage/", "storage"),
    ('localStorage.getItem("x")', "storage/", "storage"),
    ('sessionStorage.getItem("x")', "storage/", "storage"),
    ('caches.open("x")', "storage/", "storage"),
]
ROOMS = ("app", "records", "kernel", "sync", "parts", "screens", "transport", "storage")
FOUND = re.compile(r"^::error title=(\S+?),file=([^,]+),line=(\d+)\S*?::(.*)$", re.MULTILINE)


@pytest.fixture(scope="module")
def barred(tmp_path_factory: pytest.TempPathFactory) -> set[tuple[str, int, str]]:
    """(room, line, message) of what Biome's plugins found, the same file planted in each room."""
    copy = copy_of(tmp_path_factory.mktemp("barred"), "pwa/biome.json", "pwa/lint")
    (copy.top / "pwa/node_modules").symlink_to(ROOT / "pwa/node_modules")
    lines = "".join(f"\t{expression},\n" for expression, _, _ in BARRED)
    for room in ROOMS:
        copy.plant(f"pwa/src/{room}/planted.ts", f"export const taken = () => [\n{lines}];\n")
    words = copy.node(
        "@biomejs/biome/bin/biome", "ci", "--reporter=github", "--max-diagnostics=none", "."
    ).words
    return {
        (Path(file).parent.name, int(line), message)
        for title, file, line, message in FOUND.findall(words)
        if title == "plugin"
    }


@pytest.mark.parametrize("room", ROOMS)
@pytest.mark.parametrize("line", range(len(BARRED)))
def test_what_is_given_may_not_be_taken(
    barred: set[tuple[str, int, str]], room: str, line: int
) -> None:
    _, reason, owner = BARRED[line]
    told = [words for place, number, words in barred if (place, number) == (room, line + 2)]
    if room == owner:
        assert told == []
    else:
        assert told and all(reason in words for words in told)


def test_a_long_function_is_red(tmp_path: Path) -> None:
    copy = copy_of(tmp_path, "pwa/biome.json", "pwa/lint")
    lines = "".join(f"\tconsole.info({n});\n" for n in range(41))
    copy.plant("pwa/src/kernel/planted.ts", f"export function long() {{\n{lines}}}\n")
    answer = copy.node("@biomejs/biome/bin/biome", "ci", "--reporter=github", ".")
    assert "noExcessiveLinesPerFunction" in answer.words


# settings, file, what it holds, what must be said
MISTYPED = [
    ("tsconfig.json", "src/parts/planted.ts", "export const n: number = 'a';", "TS2322"),
    ("tsconfig.core.json", "src/kernel/planted.ts", "fetch('/api');", "TS2304"),
    ("tsconfig.core.json", "src/records/planted.ts", "navigator.onLine;", "TS2304"),
    ("tsconfig.core.json", "src/sync/planted.ts", "setTimeout(() => {}, 1);", "TS2304"),
    ("tsconfig.core.json", "src/reckoning/planted.ts", "localStorage;", "TS2304"),
    ("tsconfig.worker.json", "src/service-worker/planted.ts", "document.title;", "TS2584"),
    ("tsconfig.tests.json", "../tests/pwa/planted.ts", "export const n: number = 'a';", "TS2322"),
]


@pytest.fixture(scope="module")
def mistyped(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """What tsc says under each of the four settings, every mistake planted at once."""
    copy = copy_of_phone(tmp_path_factory.mktemp("mistyped"))
    for _, file, text, _ in MISTYPED:
        copy.plant(f"pwa/{file}", f"{text}\nexport {{}};\n")
    settings = {name for name, _, _, _ in MISTYPED}
    return {name: copy.node("typescript/bin/tsc", "-p", name).words for name in settings}


@pytest.mark.parametrize(("settings", "file", "text", "error"), MISTYPED)
def test_a_mistyped_line_is_red(
    mistyped: dict[str, str], settings: str, file: str, text: str, error: str
) -> None:
    assert re.search(
        rf"^{re.escape(file)}\(1,\d+\): error {error}", mistyped[settings], re.MULTILINE
    )
