"""A page as PDF through WeasyPrint (the extra `print`).  Nothing is loaded from anywhere."""

from __future__ import annotations

from saidspec.model import UnusableInput


def pdf(html: str) -> bytes:
    """The PDF of a self-contained page.

    Raises UnusableInput where WeasyPrint is not installed, and where the page refers to anything outside of itself.
    """
    try:
        from weasyprint import HTML
        from weasyprint.urls import FatalURLFetchingError, URLFetcher
    except (ImportError, OSError) as error:
        raise UnusableInput(
            "a PDF needs WeasyPrint and its libraries: install saidspec with its extra `print`, or write --format html "
            "and print it from a browser"
        ) from error
    # No protocol is allowed, and what cannot be fetched stops the rendering instead of leaving a gap.
    nothing = URLFetcher(allowed_protocols=(), fail_on_errors=True)
    try:
        return bytes(HTML(string=html, url_fetcher=nothing).write_pdf(pdf_tags=True))
    except FatalURLFetchingError as error:
        raise UnusableInput(f"the page is not self-contained: {error}") from error
