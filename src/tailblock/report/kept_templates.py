"""Where compiled templates are kept between runs: to compile them takes longer than to fill them.

In: what else decides about compiled code. Out: a cache for the template engine, or None where
nothing can be kept safely. It compares the source of each template by itself; the engine's version,
our additions to its language, how values are shown and whether they are escaped are part of the
folder's name. A shop's own templates run in a sandbox and are not kept.
"""

from __future__ import annotations

import hashlib
from contextlib import suppress
from inspect import getsourcefile
from pathlib import Path
from typing import TYPE_CHECKING

import jinja2
from jinja2 import FileSystemBytecodeCache
from platformdirs import user_cache_path

from tailblock.knowledge.kept import only_ours
from tailblock.report import template_messages

if TYPE_CHECKING:
    from collections.abc import Callable

    from jinja2.bccache import Bucket


class _Kept(FileSystemBytecodeCache):
    """Templates are used all the same where they cannot be kept."""

    def dump_bytecode(self, bucket: Bucket) -> None:
        with suppress(OSError):
            super().dump_bytecode(bucket)


def kept_templates(
    shown: Callable[[object], object], *, autoescape: bool
) -> FileSystemBytecodeCache | None:
    """Return the cache in the user's own folder; None if that is not to be had, or not theirs.

    Parameters
    ----------
    shown, autoescape
        As for `templating.environment`; constants are shown while a template is compiled.
    """
    makers = _makers(shown, autoescape=autoescape)
    folder = user_cache_path("tailblock", appauthor=False) / f"templates-{makers}"
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        ours = only_ours(folder.stat())
    except OSError:
        return None
    return _Kept(str(folder)) if ours else None


def _makers(shown: Callable[[object], object], *, autoescape: bool) -> str:
    """Return a digest of what compiles the templates."""
    made = hashlib.sha256(f"{jinja2.__version__} {autoescape}".encode())
    for file in (template_messages.__file__, getsourcefile(shown)):
        made.update(Path(file or "").read_bytes())
    return made.hexdigest()[:16]
