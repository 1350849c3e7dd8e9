"""The child process that papers are laid out in: what is to be made in, the file that it was written to out.

`python -m app.services.printing_worker` reads from each line of its standard input what the app asks it to make (`Wanted`, pickled: it
comes from the app alone), says how many pieces are done, and ends with one line of JSON. It takes no more memory than it may,
where the system can hold it to that.
"""

import base64
import gc
import json
import pickle
import sys
import traceback
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from app.documents.kit.pdf import TOLD, PdfUnavailable, prepare, sheets_for, to_pdf
from app.errors import AppError, Invalid
from app.orders import Paper
from app.services.children import ON_THE_WAY, answers, hold_to

MOST_MEMORY = 1024 * 1024 * 1024
"""Bytes of address space. A ticket takes about 250 MB of it, 300 of them about 350. Source: measured, then ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What to make, and the file to write it to."""

    make: Callable[[], bytes]
    into: Path


def readied() -> bytes:
    """Have all in memory that the first ticket needs beyond that. Returns a paper that says nothing."""
    from app.documents.ticket.ticket import SHEETS  # noqa: PLC0415 - a paper may be asked for first

    html = '<!doctype html><html lang="en"><head><title>Ready</title></head><body><p>Ready</p></body></html>'
    return to_pdf(html, sheets_for(Paper.A4, *SHEETS))


def answer(wanted: Wanted, told: Callable[[int, int], None]) -> dict[str, str]:
    """Make it. Returns what became of it: nothing said where it is written."""
    TOLD.set(told)
    try:
        wanted.into.write_bytes(wanted.make())
    except Invalid as error:
        faults = [[fault.path, fault.message, fault.code] for fault in error.faults]
        return {"kind": "Invalid", "message": json.dumps(faults)}
    except AppError as error:
        return {"kind": type(error).__name__, "message": error.message}
    except MemoryError:
        return {"kind": "MemoryError", "message": ""}
    except OSError as error:
        said = [error.errno, error.strerror, error.filename]
        return {"kind": "OSError", "message": json.dumps(said)}
    except Exception:
        return {"kind": "bug", "message": traceback.format_exc()}
    return {}


def main() -> None:
    """Make what each line asks for, until there are no more.

    What nobody needs any more is looked for between papers, where nobody waits, and not among what stays until the end.
    """
    hold_to(MOST_MEMORY)
    with suppress(PdfUnavailable):
        prepare()
    gc.collect()
    gc.freeze()
    with answers() as out:

        def told(done: int, of: int) -> None:
            print(f"{ON_THE_WAY}{done} {of}", file=out, flush=True)

        for line in sys.stdin.buffer:
            wanted = pickle.loads(base64.b64decode(line))
            print(ON_THE_WAY, file=out, flush=True)
            print(json.dumps(answer(wanted, told)), file=out, flush=True)
            gc.collect()


if __name__ == "__main__":
    main()
