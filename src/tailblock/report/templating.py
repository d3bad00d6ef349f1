"""The templates of the reports: ours, and a shop's own that take their place.

In: how a value is shown, and the folder of a shop or none. Out: an environment of templates. A
shop's template is found before ours of the same name. It runs in a sandbox: it reads what a report
says and no file outside of its folder, it calls nothing but what shows a report, and every value is
escaped, whatever the template asks for.
"""

from __future__ import annotations

from inspect import isfunction
from types import SimpleNamespace
from typing import TYPE_CHECKING

from jinja2 import (
    BaseLoader,
    ChoiceLoader,
    Environment,
    PackageLoader,
    StrictUndefined,
    TemplateNotFound,
    TemplateSyntaxError,
)
from jinja2.loaders import split_template_path
from jinja2.sandbox import ImmutableSandboxedEnvironment

from tailblock.errors import TailblockError
from tailblock.messages import _
from tailblock.report import wording
from tailblock.report.kept_templates import kept_templates
from tailblock.report.template_messages import SAY, Words, said

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

LARGEST = 500_000  # bytes of a shop's template


class BrokenTemplate(TailblockError):
    """A shop's own template cannot be used."""

    def __init__(self, path: str, line: int, error: BaseException) -> None:
        self.path, self.line = path, line
        said = " ".join(str(error).split()) or type(error).__name__
        super().__init__(
            f"{path}:{line}: this template of the shop cannot be used: {said} (mend it, or take it "
            "out of the folder, and ours is used)"
        )


def environment(
    shown: Callable[[object], object], folder: Path | None, *, autoescape: bool
) -> Environment:
    """Return an environment of templates.

    Parameters
    ----------
    shown
        What is done with each value before it is written; it escapes.
    folder
        Where a shop keeps its own templates; None for ours alone.
    """
    ours = PackageLoader("tailblock.report")
    kind = Environment if folder is None else ImmutableSandboxedEnvironment
    made = kind(
        loader=ours if folder is None else ChoiceLoader([_Theirs(folder), ours]),
        autoescape=autoescape,  # `shown` escapes where this is off
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=shown,
        extensions=[Words],
        bytecode_cache=None if folder else kept_templates(shown, autoescape=autoescape),
    )
    made.globals[SAY] = said(shown)
    if folder is not None:
        del made.filters["safe"]  # no typed text is markup, whoever wrote the template
    return made


def render(templates: Environment, name: str, folder: Path | None, **given: object) -> str:
    """Return a template filled in.

    Raises
    ------
    BrokenTemplate
        A shop's own template is at fault: which, in which line, and why.
    """
    if folder is None:
        return templates.get_template(name).render(words=_words(), **given)
    try:
        return templates.get_template(name).render(words=_words(), **given)
    except BrokenTemplate:
        raise
    except TemplateSyntaxError as error:
        if error.filename is None or not error.filename.startswith(str(folder)):
            raise
        raise BrokenTemplate(error.filename, error.lineno, error) from None
    except Exception as error:
        at = _line_of_theirs(error, folder)
        if at is None:
            raise
        raise BrokenTemplate(*at, error) from None


def _line_of_theirs(error: BaseException, folder: Path) -> tuple[str, int] | None:
    """Return the file and the line of the innermost template of a shop that an error went through.

    The template engine gives its lines as those of the template.
    """
    found = None
    trace = error.__traceback__
    while trace is not None:
        name = trace.tb_frame.f_code.co_filename
        if name.startswith(str(folder)):
            found = (name, trace.tb_lineno)
        trace = trace.tb_next
    return found


class _Theirs(BaseLoader):
    """Finds the templates of a shop in its folder, and nothing outside of it."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def get_source(
        self,
        environment: Environment,  # noqa: ARG002  every loader is asked so
        template: str,
    ) -> tuple[str, str, Callable[[], bool]]:
        path = self._folder.joinpath(*split_template_path(template))
        if not path.is_file():
            raise TemplateNotFound(template)
        if not path.resolve().is_relative_to(self._folder.resolve()):
            raise BrokenTemplate(str(path), 1, ValueError("it is a link to outside of the folder"))
        data = path.read_bytes()
        if len(data) > LARGEST:
            raise BrokenTemplate(str(path), 1, ValueError(f"it is larger than {LARGEST} bytes"))
        try:
            return data.decode("utf-8"), str(path), lambda: True
        except UnicodeDecodeError as error:
            raise BrokenTemplate(str(path), 1, error) from None


def _words() -> SimpleNamespace:
    """Return what templates may ask of the wording: its own functions and sentences, no module."""
    return SimpleNamespace(
        **{
            name: _(value) if isinstance(value, str) else value
            for name, value in vars(wording).items()
            if not name.startswith("_")
            and (
                isinstance(value, str)
                or (isfunction(value) and value.__module__ == wording.__name__)
            )
        }
    )
