"""The command line: serve the shop (default), the demo, and the care of its data.

`python -m app` serves. Options stand before or after the command, in any order, and go with each of
them; of one that is said twice the one after the command counts. What goes wrong is one sentence and exit code 2.
"""

import argparse
import sys
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

from app import __version__
from app.errors import AppError, NotFound
from app.settings import Settings, read_settings
from app.storage import (
    SCHEMA,
    DataInUse,
    Store,
    back_up_file,
    check_is_copy,
    claimed,
    has_sums,
    problems_of,
    restore,
    schema_of,
)
from app.web import ending
from app.web.kit import log_file


def main(arguments: Sequence[str] | None = None) -> int:
    """Run a command. Returns the exit code."""
    args = _parser().parse_args(arguments)
    try:
        if args.command == "restore":
            check_is_copy(args.file)  # before a folder is made for it
        settings = read_settings(
            data=args.data,
            host=args.host,
            port=args.port,
            tls=(args.tls_cert, args.tls_key),
        )
        log_file.on_terminal(settings.log_level)
        return int(_COMMANDS[args.command](settings, args))
    except AppError as error:
        print(f"bevelbook: {error.message}", file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        return 130


def _options() -> argparse.ArgumentParser:
    """The options, made anew for the program and for each command, as parsers change what they share.

    One that is not said is left out, not None, so that it takes nothing back that was said before the command.
    """
    options = argparse.ArgumentParser(add_help=False, argument_default=argparse.SUPPRESS)
    options.add_argument("--version", action="version", version=f"Bevelbook {__version__}")
    options.add_argument("--data", type=Path, help="folder of the shop's data")
    options.add_argument(
        "--host",
        help="address of this machine to listen on (default 127.0.0.1); one that others reach only where "
        "phones were turned on in the settings",
    )
    options.add_argument("--port", help="port to listen on (default 8027)")
    options.add_argument("--tls-cert", type=Path, help="certificate by which phones speak https")
    options.add_argument("--tls-key", type=Path, help="its key")
    options.add_argument("--no-browser", action="store_true", help="do not open a browser")
    return options


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="bevelbook", description="Runs a picture-framing shop.", parents=[_options()]
    )
    commands = parser.add_subparsers(dest="command", metavar="command")

    def command(name: str, does: str) -> argparse.ArgumentParser:
        says = f"{does.capitalize()}."
        return commands.add_parser(name, help=does, description=says, parents=[_options()])

    command("serve", "serve the shop (default)")
    command("demo", "serve an invented sample shop from a throw-away folder")
    command("migrate", "bring the database to this version and stop")
    backup = command("backup", "copy the database, checked, into a folder")
    backup.add_argument("folder", type=Path, nargs="?", help="default: backups in the data folder")
    restoring = command("restore", "put a backup in the place of the database")
    restoring.add_argument("file", type=Path)
    command("check", "check that the database is whole")
    parser.set_defaults(command="serve", data=None, host=None, port=None, no_browser=False)
    parser.set_defaults(tls_cert=None, tls_key=None)
    return parser


def _serve(settings: Settings, args: argparse.Namespace) -> int:
    # The care of the data does without what serves, and so begins in less than half the time.
    from app.web import opening  # noqa: PLC0415

    return opening.serve(settings, browser=not args.no_browser)


def _demo(settings: Settings, args: argparse.Namespace) -> int:
    from app.web import opening  # noqa: PLC0415

    return opening.demo(settings, browser=not args.no_browser)


def _migrate(settings: Settings, _args: argparse.Namespace) -> int:
    with claimed(settings.database), Store.open(settings.database):
        print(f"{settings.database} is up to date.")
    return 0


def _check_is_there(settings: Settings) -> None:
    """Raises: NotFound where there is no database: to copy or check one makes none."""
    if not settings.database.exists():
        raise NotFound(f"There is no shop in {settings.data}; is --data the right folder?")


@contextmanager
def _only_reading(database: Path) -> Iterator[None]:
    """No Bevelbook begins to write to the data meanwhile; one that runs already goes on."""
    with ExitStack() as claim:
        with suppress(DataInUse):
            claim.enter_context(claimed(database))
        yield


def _backup(settings: Settings, args: argparse.Namespace) -> int:
    _check_is_there(settings)
    with _only_reading(settings.database):
        copy = back_up_file(settings.database, args.folder or settings.backups)
    print(f"Copied and checked: {copy}{_age_of(copy)}")
    return 0


def _age_of(database: Path) -> str:
    """A sentence where data are of an older version; empty where they are of this one."""
    schema = schema_of(database)
    if schema == SCHEMA or schema is None:
        return ""
    return (
        f"\nThese data are of an older version of Bevelbook: their form is {schema}, this version's is "
        f"{SCHEMA}. They are brought up to date when they are next opened, or by `migrate`."
    )


def _restore(settings: Settings, args: argparse.Namespace) -> int:
    kept = restore(args.file, settings.database)
    print(f"Restored {args.file}." + (f" The old database is kept as {kept}." if kept else ""))
    return 0


def _check(settings: Settings, _args: argparse.Namespace) -> int:
    _check_is_there(settings)
    with _only_reading(settings.database):
        found = problems_of(settings.database, every_record=True)
        age = _age_of(settings.database) + _what_pages_tell(settings.database)
    for problem in found:
        print(problem)
    print(("The database is whole." if not found else f"{len(found)} problems.") + age)
    return 1 if found else 0


def _what_pages_tell(database: Path) -> str:
    """A sentence where nothing tells of single pages whether they are as they were written; else empty."""
    if has_sums(database):
        return ""
    return (
        "\nWhether a page of the file was damaged cannot be told: it has no sums of its pages, or another program wrote to "
        "it. They are made anew when it is next opened."
    )


_COMMANDS = {
    "serve": _serve,
    "demo": _demo,
    "migrate": _migrate,
    "backup": _backup,
    "restore": _restore,
    "check": _check,
}


def command() -> None:
    """Run as a process of its own: what `python -m app` and the installed command do."""
    ending.leave_in_order()
    ending.end(main())


if __name__ == "__main__":
    command()
