"""The built site, once for all tests, and one loud line when the browser tests could not run."""

import os
import shutil
import subprocess
import sys
from collections import Counter
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
CHROMIUM = shutil.which("chromium")
NEED_BROWSER = os.environ.get("VALVECALC_NEED_BROWSER") == "1"
SKIPPED = pytest.StashKey[bool]()
NO_BROWSER = "BROWSER TESTS SKIPPED: no chromium (Debian: apt-get install chromium). The pages are unchecked."


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Without Chromium the browser tests skip, or stop the run where they are needed."""
    browser = [item for item in items if Path(__file__).parent / "browser" in item.path.parents]
    if CHROMIUM or not browser:
        return
    if NEED_BROWSER:
        raise pytest.UsageError("VALVECALC_NEED_BROWSER=1, but chromium is not installed")
    config.stash[SKIPPED] = True
    for item in browser:
        item.add_marker(pytest.mark.skip(reason="chromium is not installed"))


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter, config: pytest.Config) -> None:
    """The one loud line; with --durations also the files that cost most, where the many short tests of a file show."""
    if SKIPPED in config.stash:
        terminalreporter.write_sep("!", NO_BROWSER, red=True, bold=True)
    if config.getoption("durations"):
        seconds: Counter[str] = Counter()
        for reports in terminalreporter.stats.values():
            for report in reports:
                if isinstance(report, pytest.TestReport):
                    seconds[report.nodeid.partition("::")[0]] += report.duration
        terminalreporter.write_sep("=", "slowest files")
        for name, spent in seconds.most_common(30):
            terminalreporter.write_line(f"{spent:8.1f} s  {name}")


@pytest.fixture(scope="session")
def built_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the site, built strictly: one warning of mkdocs is a failure.

    VALVECALC_SITE names a folder that was built just before, to save the build while working on a test.
    """
    if built := os.environ.get("VALVECALC_SITE"):
        return Path(built)
    folder = tmp_path_factory.mktemp("built") / "site"
    command = [sys.executable, "-m", "mkdocs", "build", "--strict", "--quiet", "--site-dir", str(folder)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, f"the strict build failed:\n{done.stdout}{done.stderr}"
    return folder
