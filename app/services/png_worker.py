"""The child process that makes PNG of drawings: a drawing in, a PNG out, a line each.

`python -m app.services.png_worker` reads from each line of its standard input a drawing as a text in JSON, and answers with
a line that holds its PNG in base64.
"""

import base64
import json
import sys

from app.documents.kit.png import to_png
from app.services.children import answers


def main() -> None:
    """Make what each line holds, until there are no more."""
    with answers() as out:
        for line in sys.stdin:
            print(base64.b64encode(to_png(json.loads(line))).decode(), file=out, flush=True)


if __name__ == "__main__":
    main()
