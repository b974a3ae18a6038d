"""The command `cage3d`: one file a command, and every fault told in plain words."""

from __future__ import annotations

import sys

import typer

from cage3d.errors import CageError

from . import check, make, maquette, new, sheets, show
from .telling import status_of, tell, tell_unexpected

app = typer.Typer(
    help="Works out how a cage petticoat will hang, and gives its 3D model, miniature and making sheets.",
    epilog="Numbers are predictions, not a safety certificate: try the cage on its wearer before it is used.",
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    context_settings={"help_option_names": ["-h", "--help"]},
)
for command in (new.new, check.check, make.make, show.show, maquette.maquette, sheets.sheets):
    app.command()(command)


def main() -> None:
    """Runs the command line; ends the process with its exit status and never with a traceback."""
    for stream in (sys.stdout, sys.stderr):
        # A terminal that lacks a sign gets a question mark instead of an error.
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    try:
        app(prog_name="cage3d")
    except CageError as fault:
        tell(fault)
        sys.exit(status_of(fault))
    except Exception as fault:
        tell_unexpected(fault)
        sys.exit(1)


if __name__ == "__main__":
    main()
