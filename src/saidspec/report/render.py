"""Reports as text: terminal, Markdown, HTML through templates of the package, and JSON.

Whatever comes from a note is escaped by the environment of the format, in one place, so that no template can forget it.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from functools import cache
from typing import TYPE_CHECKING, Any, Literal

from saidspec.model import Fact, fact_object, plain_number
from saidspec.report.lines import as_said
from saidspec.report.wording import clock, day_shown, distance

if TYPE_CHECKING:
    from jinja2 import Environment

Format = Literal["text", "markdown", "html", "json"]
ENDINGS: dict[Format, str] = {"text": "txt", "markdown": "md", "html": "html"}
MARKDOWN = re.compile(r"[\\`*_{}\[\]<>#|~&!$]")
AT_START = re.compile(r"^(\s*)([-+=:]|\d+(?=[.)]))")
CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069]")


class Trusted(str):
    """Text that the templates made themselves and that is not escaped again."""

    __slots__ = ()


def plain(text: object) -> object:
    """Text for a terminal: one line, without the control characters that could move its cursor or its direction."""
    if not isinstance(text, str) or isinstance(text, Trusted):
        return text
    return CONTROL.sub("�", re.sub(r"\s+", " ", text))


def markdown(text: object) -> object:
    """Text for Markdown: what would be markup is shown as it was said."""
    if not isinstance(text, str) or isinstance(text, Trusted):
        return text
    told = MARKDOWN.sub(r"\\\g<0>", str(plain(text)))
    return AT_START.sub(lambda at: f"{at[1]}{at[2]}\\" if at[2].isdigit() else f"{at[1]}\\{at[2]}", told)


def css_string(text: str) -> str:
    """Text inside a quoted string of a style sheet: letters, digits and plain signs only."""
    return re.sub(r"[^\w .,:()-]", "", text)


@cache
def environment(form: Format) -> Environment:
    """The templates with the escaping of a format."""
    from jinja2 import Environment, PackageLoader, StrictUndefined

    escape: Callable[[object], object] | None = {"text": plain, "markdown": markdown}.get(form)
    made = Environment(
        loader=PackageLoader("saidspec.report"), autoescape=form == "html", undefined=StrictUndefined,
        trim_blocks=True, lstrip_blocks=True, keep_trailing_newline=True, finalize=escape,
    )  # fmt: skip
    made.filters |= {"day": day_shown, "clock": clock, "trusted": Trusted, "distance": distance, "css": css_string,
                     "said": as_said}  # fmt: skip
    return made


def rendered(name: str, report: Any, form: Format, **more: Any) -> str:
    """A report as text: `name` is that of its templates, `more` is at hand in them."""
    if form == "json":
        return json.dumps({"schema": f"saidspec/{name}-1", **as_object(report)}, ensure_ascii=False, indent=1) + "\n"
    text = environment(form).get_template(f"{name}.{ENDINGS[form]}.jinja").render(report=report, **more)
    return re.sub(r"\n{3,}", "\n\n", text).strip() + "\n" if form != "html" else text


def as_object(value: Any) -> Any:
    """A report value as JSON holds it: fields by name, numbers with the digits said, days in ISO 8601."""
    if isinstance(value, Fact):
        return fact_object(value)
    if is_dataclass(value):
        told = {field.name: as_object(getattr(value, field.name)) for field in fields(value)}
        worked_out = [name for name, kind in vars(type(value)).items() if isinstance(kind, property)]
        return told | {name: as_object(getattr(value, name)) for name in worked_out}
    if isinstance(value, dict):
        return {str(key): as_object(item) for key, item in value.items()}
    if isinstance(value, (list, tuple, set, frozenset)):
        return [as_object(item) for item in value]
    if isinstance(value, Decimal):
        return plain_number(value)
    return value.isoformat() if isinstance(value, date) else value
