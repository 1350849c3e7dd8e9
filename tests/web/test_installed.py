"""Installed from a wheel into a folder of its own, the command runs the whole app, with no checkout near it."""

import os
import re
import signal
import subprocess
import sys
import sysconfig
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import urljoin
from urllib.request import HTTPCookieProcessor, OpenerDirector, build_opener
from zipfile import ZipFile

import pytest

ROOT = Path(__file__).resolve().parents[2]

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    built = subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", folder],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert built.returncode == 0, built.stderr
    [found] = folder.glob("*.whl")
    return found


@pytest.fixture(scope="module")
def bevelbook(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The installed command. What the app needs is lent by the environment of the tests, by a path file."""
    home = tmp_path_factory.mktemp("installed")
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", home], check=True)
    python = home / ("Scripts" if os.name == "nt" else "bin") / "python"
    into = Path(
        subprocess.run(
            [python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"],
            capture_output=True,
            text=True,
            check=True,
        ).stdout.strip()
    )
    (into / "lent.pth").write_text(sysconfig.get_path("purelib"), encoding="utf-8")
    subprocess.run(
        [sys.executable, "-m", "pip", "--python", python, "install", "-q", "--no-deps", wheel],
        check=True,
        capture_output=True,
    )
    return python.parent / "bevelbook"


def test_a_wheel_holds_what_is_no_code_and_no_test(wheel: Path) -> None:
    names = set(ZipFile(wheel).namelist())
    for folder in ("templates", "static", "migrations"):
        kept = {
            f"app/files/{path.relative_to(ROOT).as_posix()}"
            for path in (ROOT / folder).rglob("*")
            if path.is_file() and "__pycache__" not in path.parts
        }
        assert len(kept) > 20
        assert kept <= names
    assert not [name for name in names if name.startswith("tests/")]


def test_the_command_says_its_version(bevelbook: Path, tmp_path: Path) -> None:
    said = subprocess.run(
        [bevelbook, "--version"], capture_output=True, text=True, check=True, cwd=tmp_path
    )
    assert said.stdout.startswith("Bevelbook ")


@contextmanager
def serving(command: tuple[str, ...], folder: Path) -> Iterator[tuple[str, OpenerDirector]]:
    """The address that the command says, opened once as a browser would."""
    running = subprocess.Popen(command, cwd=folder, stdout=subprocess.PIPE, text=True)
    try:
        assert running.stdout is not None
        told = (re.search(r"open at (http://\S+)", line) for line in running.stdout)
        found = next(filter(None, told), None)
        assert found, f"it ended with {running.wait()} and never said where it is open"
        browser = build_opener(HTTPCookieProcessor())
        browser.open(found[1], timeout=60).close()
        yield found[1], browser
    finally:
        running.send_signal(signal.SIGINT)
        running.communicate(timeout=30)


def test_an_installed_app_serves_pages_styles_and_the_sample(
    bevelbook: Path, tmp_path: Path
) -> None:
    command = (str(bevelbook), "demo", "--port", "0", "--no-browser")
    with serving(command, tmp_path) as (address, browser):
        for path, needle in (("/orders", "<h1>Orders</h1>"), ("/static/css/all.css", "@layer")):
            with browser.open(urljoin(address, path), timeout=60) as answer:
                assert needle in answer.read().decode()


def test_an_installed_app_makes_a_shop_in_its_folder(bevelbook: Path, tmp_path: Path) -> None:
    """The steps of the database come out of the package."""
    shop = tmp_path / "shop"
    subprocess.run([bevelbook, "migrate", "--data", shop], check=True, cwd=tmp_path)
    said = subprocess.run(
        [bevelbook, "check", "--data", shop],
        check=True,
        cwd=tmp_path,
        capture_output=True,
        text=True,
    )
    assert said.stdout.startswith("The database is whole.")
