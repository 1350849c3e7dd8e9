"""The hooks before a commit run what `make check` runs, from .venv, and fetch nothing."""

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
HOOKS = (ROOT / ".pre-commit-config.yaml").read_text(encoding="utf-8")


def checks() -> list[str]:
    """What `make check` runs, as it would be typed without paths and variables."""
    makefile = (ROOT / "Makefile").read_text(encoding="utf-8")
    [recipe] = re.findall(r"(?m)^check:.*\n((?:\t.*\n)+)", makefile)
    lines = [line.strip().lstrip("@") for line in recipe.splitlines()]
    named = [
        line.replace("$(PY)", ".venv/bin/python").replace("$(VENV)", ".venv").removesuffix(" .")
        for line in lines
    ]
    return [re.sub(r"\$\(wildcard (.*)\)", r"\1", line) for line in named]


def test_every_check_is_a_hook():
    entries = re.findall(r"(?m)^ +entry: (.+)$", HOOKS)
    assert len(checks()) == 4
    for check in checks():
        assert [entry for entry in entries if entry.startswith(check)], check


def test_hooks_come_from_here_alone():
    assert re.findall(r"repo: *(\S+)", HOOKS) == ["local"]
    assert "://" not in HOOKS


def test_the_hook_for_migrations_names_a_test_that_is_there():
    [place, name] = re.findall(r"pytest -q (\S+) -k (\S+)", HOOKS)[0]
    tests = re.findall(r"(?m)^def (test_\w+)", (ROOT / place).read_text(encoding="utf-8"))
    assert len([test for test in tests if name in test]) == 1
