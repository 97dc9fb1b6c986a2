"""What the operator decides: the only reader of the environment, and the keeper of secrets.

Each setting is an environment variable `SPORELINE_<NAME>`, or a line `<name> = …` in
`settings.toml` in the data folder; the environment wins.
"""

from __future__ import annotations

import os
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any

from sporeline.errors import CannotStart


@dataclass(frozen=True)
class Settings:
    """Everything the operator may set. Times and sizes that nobody should change are not here."""

    data_dir: Path
    database_url: str
    public_url: str
    host: str = "127.0.0.1"
    port: int = 8800
    demo: bool = False
    demo_today: str = ""
    """First day of the demo's calendar, `YYYY-MM-DD`; empty = today."""
    push_hosts: tuple[str, ...] = ()
    """Further hosts that may be sent notices; for tests."""
    push_contact: str = ""
    """`mailto:` or `https:` address that push services may write to (RFC 8292)."""
    proxies: int = 0
    """How many reverse proxies of ours stand in front (their X-Forwarded-* is believed)."""

    @property
    def secure(self) -> bool:
        """Whether people reach this server by https."""
        return self.public_url.startswith("https:")


def load(
    environment: Mapping[str, str] | None = None,
    data_dir: str | Path | None = None,
    chosen: Mapping[str, object] | None = None,
) -> Settings:
    """Settings from `settings.toml` in the data folder, the environment and `chosen` (which wins).

    :raise CannotStart: an unknown name in the file, or a value that does not fit.
    """
    environment = os.environ if environment is None else environment
    folder = Path(data_dir or environment.get("SPORELINE_DATA_DIR") or "var").absolute()
    given = _from_file(folder / "settings.toml") | _from_environment(environment)
    given |= chosen or {}
    given["data_dir"] = folder
    given.setdefault("database_url", f"sqlite:///{folder / 'sporeline.db'}")
    given.setdefault("public_url", f"http://localhost:{given.get('port', Settings.port)}")
    fitting: dict[str, Any] = {name: _fitting(name, value) for name, value in given.items()}
    return Settings(**fitting)


def _from_environment(environment: Mapping[str, str]) -> dict[str, object]:
    """Set variables by field name. `SPORELINE_<NAME>_FILE` names a file that holds the value."""
    given: dict[str, object] = {}
    for field in fields(Settings):
        variable = f"SPORELINE_{field.name.upper()}"
        if file := environment.get(f"{variable}_FILE"):
            given[field.name] = Path(file).read_text(encoding="utf-8").strip()
        elif value := environment.get(variable):
            given[field.name] = value
    return given


def _from_file(path: Path) -> dict[str, object]:
    if not path.exists():
        return {}
    try:
        given = tomllib.loads(path.read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as wrong:
        raise CannotStart(f"{path} cannot be read: {wrong}.", where=str(path)) from wrong
    unknown = given.keys() - {field.name for field in fields(Settings)}
    if unknown:
        raise CannotStart(f"{path} names settings that do not exist: {sorted(unknown)}.")
    return given


def _fitting(name: str, value: object) -> object:
    try:
        return _READERS.get(name, str)(value)
    except (KeyError, TypeError, ValueError) as wrong:
        message = f"The setting {name} cannot be {value!r}."
        raise CannotStart(message, where=name) from wrong


def _switch(value: object) -> bool:
    return {"1": True, "true": True, "yes": True, "0": False, "false": False, "no": False}[
        str(value).lower()
    ]


def _words(value: object) -> tuple[str, ...]:
    return tuple(value.split(",")) if isinstance(value, str) else tuple(map(str, value))  # type: ignore[call-overload]


_READERS: dict[str, Callable[..., object]] = {
    "data_dir": Path,
    "port": int,
    "proxies": int,
    "demo": _switch,
    "push_hosts": _words,
    "public_url": lambda value: str(value).rstrip("/"),
}


def secret(folder: Path, name: str, make: Callable[[], bytes]) -> bytes:
    """The secret `name`, made once and kept in a file that only the server's account may read.

    Created whole or not at all (a link onto the final name), so two starts agree on one value.
    """
    path = folder / "secrets" / name
    if not path.exists():
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        write_private(path, make(), keep_existing=True)
    return path.read_bytes()


def write_private(path: Path, content: bytes, *, keep_existing: bool = False) -> None:
    """Write a file of mode 0600 in one step: readers see all of it or none."""
    draft = path.with_name(f".{path.name}.{os.getpid()}")
    with open(os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
    if not keep_existing:
        draft.replace(path)
        return
    try:
        os.link(draft, path)
    except FileExistsError:
        pass
    finally:
        draft.unlink()
