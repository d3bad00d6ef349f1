"""A report behind the pages of somebody else's PDF, or embedded in it.

In: the bytes of both. Out: a new PDF that has all objects of the original: its pages, their sizes,
its metadata and its outline are what they were. A file that cannot be kept whole is refused: one
that is encrypted, signed or damaged.
"""

from __future__ import annotations

import logging
from contextlib import contextmanager
from io import BytesIO
from typing import TYPE_CHECKING

from pypdf import PdfReader, PdfWriter
from pypdf.errors import PyPdfError

from tailblock.errors import TailblockError

if TYPE_CHECKING:
    from collections.abc import Iterator

_SIGNED = 1  # the first bit of SigFlags: there is a signature (ISO 32000-1, table 219)
_POINTS_A_MM = 72 / 25.4


class CannotAttach(TailblockError):
    """A PDF to which nothing can be added without harm; it is untouched."""

    def __init__(self, name: str, why: str, mend: str) -> None:
        self.name, self.why = name, why
        super().__init__(f"{name}: {why}; nothing was written ({mend})")


class Damaged(CannotAttach):
    """The file is no PDF, or not a whole one."""

    def __init__(self, name: str) -> None:
        mend = "open it where it was made and save it as a PDF anew"
        super().__init__(name, "this is no whole PDF", mend)


def paper_of(original: bytes, name: str) -> tuple[float, float]:
    """Return width and height [mm] of the first page as it is shown: what is added may be alike.

    Raises
    ------
    CannotAttach
    """
    page = _opened(original, name).pages[0]
    width, height = (
        float(side) / _POINTS_A_MM for side in (page.cropbox.width, page.cropbox.height)
    )
    return (height, width) if page.rotation % 180 else (width, height)


def append(original: bytes, pages: bytes, name: str) -> bytes:
    """Return a PDF with the pages of another behind its own.

    Parameters
    ----------
    original, pages
        Two PDFs.
    name
        What the original is called in messages.

    Raises
    ------
    CannotAttach
    """
    version = max(_opened(original, name).pdf_header, PdfReader(BytesIO(pages)).pdf_header)
    writer = PdfWriter(clone_from=BytesIO(original))
    writer.pdf_header = version
    writer.append(BytesIO(pages), import_outline=False)
    return _written(writer)


def embed(original: bytes, content: bytes, file_name: str, name: str) -> bytes:
    """Return a PDF with a file embedded in it, its pages being what they were.

    Raises
    ------
    CannotAttach
    """
    version = _opened(original, name).pdf_header
    writer = PdfWriter(clone_from=BytesIO(original))
    writer.pdf_header = version
    writer.add_attachment(file_name, content)
    return _written(writer)


def _written(writer: PdfWriter) -> bytes:
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def _opened(original: bytes, name: str) -> PdfReader:
    """Return a reader of a PDF of which every page can be read.

    Raises
    ------
    CannotAttach
    """
    try:
        with _complaints() as complaints:
            reader = PdfReader(BytesIO(original))
            _require_open(reader, name)
            for page in reader.pages:
                content = page.get_contents()
                if content is not None:
                    content.get_data()
            pages = len(reader.pages)
    except CannotAttach:
        raise
    except (PyPdfError, ValueError, KeyError, TypeError, AttributeError, IndexError, OSError,
            RecursionError, AssertionError, NotImplementedError) as error:  # fmt: skip
        raise Damaged(name) from error
    if complaints or not pages:
        raise Damaged(name)
    return reader


def _require_open(reader: PdfReader, name: str) -> None:
    """Refuse what may not be changed, or would be broken by it."""
    if reader.is_encrypted:
        mend = "save a copy without a password where you can open it"
        raise CannotAttach(name, "it is encrypted", mend)
    form = reader.root_object.get("/AcroForm")
    if form is not None and int(form.get_object().get("/SigFlags", 0)) & _SIGNED:
        mend = "send the report beside it"
        raise CannotAttach(name, "it is signed, and a change would break that", mend)


@contextmanager
def _complaints() -> Iterator[list[str]]:
    """Collect what the library mends by itself and only warns of: such a file is not whole."""
    found: list[str] = []

    class Collect(logging.Handler):
        def emit(self, record: logging.LogRecord) -> None:
            found.append(record.getMessage())

    logger = logging.getLogger("pypdf")
    handler, propagated = Collect(logging.WARNING), logger.propagate
    logger.addHandler(handler)
    logger.propagate = False
    try:
        yield found
    finally:
        logger.removeHandler(handler)
        logger.propagate = propagated
