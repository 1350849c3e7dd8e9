"""The child process that makes PNG of drawings: a drawing in, a PNG out, a line each.

`python -m app.services.png_worker` reads from each line of its standard input a drawing as a text in JSON, and answers with
a line that holds its PNG in base64. It takes no more memory than it may, where the system can hold it to that.
"""

import base64
import json
import sys

from app.documents.kit.png import to_png
from app.services.children import answers, hold_to

MOST_MEMORY = 512 * 1024 * 1024
"""Bytes of address space. A wall of 24 pieces with photos takes about 130 MB of it. Source: measured, then ours."""


def main() -> None:
    """Make what each line holds, until there are no more."""
    hold_to(MOST_MEMORY)
    with answers() as out:
        for line in sys.stdin:
            print(base64.b64encode(to_png(json.loads(line))).decode(), file=out, flush=True)


if __name__ == "__main__":
    main()
