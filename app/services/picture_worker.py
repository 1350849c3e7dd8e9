"""The child process that photos are read in: a question a line in, the picture or what is wrong with the photo out.

`python -m app.services.picture_worker`. It takes no more memory than it may, where the system can hold it to that.
"""

import json
import sys
from base64 import b64decode, b64encode
from fractions import Fraction
from typing import Any

from app.errors import Invalid
from app.orders.photo_corners import Corners
from app.services.children import answers, hold_to
from app.services.picture_making import AT, Made, made_of, straightened

MOST_MEMORY = 1024 * 1024 * 1024
"""Bytes of address space. A photo of 40 megapixels takes about 400 MB of it. Source: measured, then ours."""


def question(
    content: bytes,
    corners: Corners | None = None,
    proportion: Fraction | None = None,
    *,
    logo: bool = False,
) -> str:
    """Return the line that asks for the picture of a photo; with corners, for the rectangle within them.

    logo: whether it is a shop's logo.
    """
    asked = {
        "content": b64encode(content).decode(),
        "corners": corners.text if corners else "",
        "proportion": str(proportion or ""),
        "logo": logo,
    }
    return json.dumps(asked)


def answer(line: str) -> dict[str, Any]:
    """Return the answer to a question."""
    asked = json.loads(line)
    content = b64decode(asked["content"])
    try:
        if asked["corners"]:
            proportion = Fraction(asked["proportion"]) if asked["proportion"] else None
            made = straightened(content, Corners.read(asked["corners"]), proportion)
        else:
            made = made_of(content, logo=asked["logo"])
    except Invalid as invalid:
        return {"path": invalid.faults[0].path, "fault": invalid.message}
    except MemoryError:
        return {
            "path": AT,
            "fault": "The photo takes more memory than it may. Take it at a smaller size.",
        }
    return {
        "content": b64encode(made.content).decode(),
        "small": b64encode(made.small).decode(),
        "width": made.width,
        "height": made.height,
    }


def made_from(line: str) -> Made:
    """Return what an answer says. Raises: Invalid."""
    said = json.loads(line)
    if "fault" in said:
        raise Invalid.at(said["path"], said["fault"])
    return Made(
        content=b64decode(said["content"]),
        small=b64decode(said["small"]),
        width=said["width"],
        height=said["height"],
    )


def main() -> None:
    """Answer each line until there are no more."""
    hold_to(MOST_MEMORY)
    with answers() as out:
        for line in sys.stdin:
            print(json.dumps(answer(line)), file=out, flush=True)


if __name__ == "__main__":
    main()
