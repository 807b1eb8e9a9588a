"""`saidspec review`: look at what was understood, and confirm, correct or reject it."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

from saidspec.cli import reporting
from saidspec.cli.main import app
from saidspec.model import UnusableInput


@app.command("review")
def review_command(
    person: Annotated[str | None, typer.Option("--person", help="Your name, kept with each decision.")] = None,
    port: Annotated[int, typer.Option("--port", min=0, max=65535, help="The port; 0 takes a free one.")] = 0,
    browser: Annotated[bool, typer.Option("--browser/--no-browser", help="Open the page in your browser.")] = True,
    record: reporting.RecordOption = None,
) -> None:  # fmt: skip
    """Open a page to confirm or correct what was understood.

    The page is on this machine only, and shows each note's words with the facts marked in them.

    There you confirm, correct or reject facts, and let disagreements stand with a reason.  Ctrl-C ends it.

    Example: saidspec review --person Ann
    """
    from saidspec.record.place import open_record, record_path
    from saidspec.web.guard import Session
    from saidspec.web.server import ReviewServer

    path = record_path(record)
    open_record(path, create=False).close()
    try:
        server = ReviewServer(Session(path.absolute(), person), port)
    except OSError as error:
        raise UnusableInput(f"cannot listen on port {port}: {error.strerror}; choose another with --port") from error
    print(f"Review at {server.address}\nCtrl-C ends it.", flush=True)
    if browser:
        import webbrowser

        webbrowser.open(server.address)
    try:
        server.serve_forever()
    except KeyboardInterrupt:
        print("ended", file=sys.stderr)
    finally:
        server.server_close()
