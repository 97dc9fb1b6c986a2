"""`./tests/run [--setup] [part ...]`: brings what is missing, runs the parts, counts."""

from __future__ import annotations

import argparse
import signal
import sys
import tempfile
import time
from concurrent.futures import ThreadPoolExecutor, as_completed
from contextlib import ExitStack
from pathlib import Path
from types import FrameType

from deploy.environments import BringingFailed, Environment
from tests.house.runner import bringing, cluster
from tests.house.runner.counting import Count
from tests.house.runner.parts import BUILD, PARTS, Part
from tests.house.runner.running import Runner

# The checks that wait for servers and browsers leave room for a second one beside them.
AT_ONCE = 2


def say(line: str) -> None:
    print(f"-- {line}", flush=True)


def read_arguments(words: list[str]) -> argparse.Namespace:
    names = [part.name for part in PARTS]
    parser = argparse.ArgumentParser(prog="./tests/run", description=__doc__)
    parser.add_argument("parts", nargs="*", metavar="part", help=f"of: {' '.join(sorted(names))}")
    parser.add_argument("--setup", action="store_true", help="bring what is needed, run nothing")
    told = parser.parse_args(words)
    unknown = set(told.parts) - set(names)
    if unknown:
        parser.error(f"no such part: {' '.join(sorted(unknown))}; there are: {' '.join(names)}")
    return told


def bring(parts: list[Part], setup: bool, stack: ExitStack) -> Runner:
    """Everything the parts need, in the order in which a failure is cheapest."""
    needs = frozenset[str]().union(*(part.needs for part in parts))
    tests = bringing.tests_environment(say)
    places: dict[str, Environment] = {"tests": tests}
    more: dict[str, str] = {}
    if "chromium" in needs:
        more["SPORELINE_TEST_CHROMIUM"] = str(bringing.bring_chromium(tests, say))
    if "outside" in needs:
        places["outside"] = bringing.outside_environment(say)
    if "postgresql" in needs:
        programs = bringing.bring_postgresql(say)
        if not setup:
            more["SPORELINE_TEST_POSTGRESQL"] = stack.enter_context(cluster.postgresql(programs))
    reports = Path(stack.enter_context(tempfile.TemporaryDirectory(prefix="sporeline-run-")))
    return Runner(places, more, reports)


def run_all(parts: list[Part], runner: Runner) -> dict[str, Count]:
    """All parts, two at a time; then those that must be alone. Prints each when it is done."""
    counts: dict[str, Count] = {}
    if any("app" in part.needs for part in parts):
        say("Building the phone app")
        built = runner.run(BUILD)
        if built.failed:
            counts["build"] = built
    with ThreadPoolExecutor(AT_ONCE) as pool:
        waiting = {pool.submit(runner.run, part): part for part in parts if not part.alone}
        try:
            for done in as_completed(waiting):
                counts[waiting[done].name] = done.result()
        except BaseException:
            pool.shutdown(wait=False, cancel_futures=True)
            runner.end()
            raise
    for part in parts:
        if part.alone:
            counts[part.name] = runner.run(part)
    return counts


def conclude(counts: dict[str, Count], seconds: float) -> int:
    print(f"\n== everything that ran, in {seconds:.0f} s", flush=True)
    for name, count in counts.items():
        print(f"{name}: {count.passed} passed, {count.failed} failed")
    return int(any(count.failed or not count.passed for count in counts.values()))


def stop(number: int, frame: FrameType | None) -> None:
    raise KeyboardInterrupt


def main(words: list[str]) -> int:
    told = read_arguments(words)
    parts = [part for part in PARTS if part.name in told.parts or not told.parts]
    signal.signal(signal.SIGTERM, stop)
    begun = time.monotonic()
    with ExitStack() as stack:
        try:
            runner = bring(parts, told.setup, stack)
            if told.setup:
                say("Everything that is needed is here; ./tests/run runs it")
                return 0
            return conclude(run_all(parts, runner), time.monotonic() - begun)
        except BringingFailed as failure:
            print(failure, file=sys.stderr)
            return 1
        except KeyboardInterrupt:
            print("Stopped; what had been brought stays.", file=sys.stderr)
            return 130


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
