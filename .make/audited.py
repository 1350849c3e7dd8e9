"""Says what an audit of the lock file found:  python .make/audited.py FILE

FILE is what pip-audit wrote as JSON. Exit 1 where a hole is known.
"""

import json
import sys
from pathlib import Path


def verdict(text: str) -> tuple[str, int]:
    """What was found, in words, and the exit code. text: blank, or no JSON, where the audit came to no end."""
    try:
        named = json.loads(text)["dependencies"]
    except (ValueError, LookupError):
        named = []
    asked = [each for each in named if "skip_reason" not in each]
    holes = [
        f"{each['name']} {each['version']}: {hole['id']}, mended in {', '.join(hole['fix_versions']) or 'no version yet'}"
        for each in asked
        for hole in each["vulns"]
    ]
    if holes:
        return "The lock file names packages with known holes:\n" + "\n".join(holes), 1
    if not asked:
        return "The lock file was not audited: no database of known holes could be reached.", 0
    left = len(named) - len(asked)
    return (
        f"No hole is known in what the lock file names ({len(asked)} looked up, {left} not known there).",
        0,
    )


if __name__ == "__main__":
    said, code = verdict(Path(sys.argv[1]).read_text(encoding="utf-8"))
    print(said)
    sys.exit(code)
