"""Where every failure becomes one line and an exit code.

In: a command about to run. Out: its exit code; on the error stream one line that says what is
wrong and what would be right (one a problem, if a file has several). What a person did wrong never
ends in a traceback; what we did wrong does.
"""

from __future__ import annotations

import errno
import io
import os
import re
import sys
from typing import TYPE_CHECKING

import typer

from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from collections.abc import Callable

FINE, FOUND_ERRORS, BAD = 0, 1, 2
INTERRUPTED = 130  # 128 + SIGINT, as a shell counts
PIPE_CLOSED = 141  # 128 + SIGPIPE

# The base of all usage errors, whichever copy of click this typer works with.
UsageError = typer.BadParameter.__mro__[2]

_WHY = {
    errno.ENOSPC: "the disk is full; make room and try again",
    errno.EDQUOT: "your share of the disk is used up; make room and try again",
    errno.EROFS: "it lies on a medium that can only be read; copy it elsewhere",
    errno.EACCES: "you may not do that here; look at the permissions of the file and its folder",
    errno.EPERM: "you may not do that here; look at the permissions of the file and its folder",
    errno.ENOENT: "there is no such file or folder",
    errno.EISDIR: "this is a folder, and a file is wanted",
    errno.ENOTDIR: "this leads through a file as if it were a folder",
    errno.ENAMETOOLONG: "the name is too long",
    errno.ELOOP: "the links lead in a circle",
}


class Interrupted(Exception):
    """A person broke off with Ctrl-C; `saved` says what is safe."""

    def __init__(self, saved: str) -> None:
        self.saved = saved
        super().__init__(saved)


def guarded(run: Callable[[], object]) -> int:
    """Run a command and return its exit code, whatever happens in it.

    Parameters
    ----------
    run
        The command; an `int` that it returns is the exit code, anything else means that it is fine.
    """
    _never_choke_on_a_character()
    try:
        code = run()
        sys.stdout.flush()
    except typer.Exit as left:
        return left.exit_code
    except Interrupted as broken:
        return _report(broken.saved, INTERRUPTED)
    except (KeyboardInterrupt, typer.Abort):
        return _report("broken off", INTERRUPTED)
    except BrokenPipeError:
        return _let_go_of_the_pipe()
    except SystemExit as left:  # what typer makes of a closed pipe
        if not isinstance(left.__context__, BrokenPipeError):
            raise
        return _let_go_of_the_pipe()
    except Exception as error:
        said = sentence(error)
        if said is None:
            raise
        return _report(said, BAD)
    if code == INTERRUPTED:  # typer has caught the Ctrl-C before us
        return _report("broken off", INTERRUPTED)
    return code if isinstance(code, int) else FINE


def sentence(error: Exception) -> str | None:
    """Return what to tell a person about an error, or None if it is a defect of ours."""
    if isinstance(error, TailblockError):
        return str(error)
    if isinstance(error, UsageError):
        return _usage(error)
    if isinstance(error, OSError):
        return _system(error)
    if isinstance(error, UnicodeEncodeError):
        return f"{error.object!r} holds characters that cannot be written; give it in UTF-8"
    return _unfit(error)


def _unfit(error: Exception) -> str | None:
    """Return a complaint about something that was given and does not fit into the file."""
    from pydantic import ValidationError

    if not isinstance(error, ValidationError):
        return None
    first = error.errors(include_url=False, include_input=False)[0]
    if first["type"] == "string_unicode":
        return (
            f"{_name(first['loc'])}: it holds characters that cannot be written; give it in UTF-8"
        )
    return f"{_name(first['loc'])}: {first['msg'][:1].lower()}{first['msg'][1:]}"


def _name(steps: tuple[int | str, ...]) -> str:
    return " ".join(str(step) for step in steps)


def _usage(error: Exception) -> str:
    """Return a complaint about the command line, with the command whose help says more."""
    context = getattr(error, "ctx", None)
    command = context.command_path if context else "tailblock"
    message = " ".join(error.format_message().split())  # type: ignore[attr-defined]
    message = message.replace(": Value error, ", ": ")  # some typers name the exception, too
    if re.search(r"No such option: -[\d.]", message):
        return f"{command}: {message} (a value that begins with a minus stands last, behind `--`)"
    if "unexpected extra argument" in message:
        return f'{command}: {message} (a value of several words stands in quotes: "0.2 mm")'
    meant = _meant(message)
    if meant:
        return f"{command}: {message} (did you mean {meant}?)"
    return f"{command}: {message} (`{command} --help` says what it takes)"


def _meant(message: str) -> str:
    """Return the one choice that begins like what was given, as `markdown` for `md`; else nothing.

    >>> _meant("Invalid value for '--format': 'md' is not one of 'html', 'markdown', 'pdf'.")
    'markdown'
    """
    parts = re.search(r"'([^']+)' is not one of (.*)", message)
    if parts is None:
        return ""
    given, choices = parts.groups()
    like = [one for one in re.findall("'([^']+)'", choices) if one[0] == given[0].lower()]
    return like[0] if len(like) == 1 else ""


def _system(error: OSError) -> str:
    why = _WHY.get(error.errno or 0, error.strerror or str(error))
    return f"{error.filename}: {why}" if error.filename is not None else why


def _report(said: str, code: int) -> int:
    try:
        typer.echo(said, err=True)
    except BrokenPipeError:
        _let_go_of_the_pipe()
    return code


def _let_go_of_the_pipe() -> int:
    """Send what is still to be written nowhere, or the interpreter complains when it ends."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    for stream in filter(None, (sys.__stdout__, sys.__stderr__)):
        try:
            stream.flush()
        except BrokenPipeError:
            os.dup2(nowhere, stream.fileno())
    os.close(nowhere)
    return PIPE_CLOSED


def _never_choke_on_a_character() -> None:
    """Print a substitute for a character that the terminal cannot show."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
