"""A trend as a picture for paper: black on white, told apart by shape and not by colour.  Needs the extra `plot`."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import timedelta
from io import BytesIO
from typing import TYPE_CHECKING, Any, Literal

from saidspec.model import UnusableInput
from saidspec.reference.units import shown_unit
from saidspec.report.robust import FEWEST
from saidspec.report.trend_values import Trend, TrendPoint

if TYPE_CHECKING:
    from matplotlib.axes import Axes

LOOK: Any = {
    "font.size": 12, "font.family": "DejaVu Sans", "axes.linewidth": 1.2, "axes.spines.top": False,
    "axes.spines.right": False, "svg.hashsalt": "saidspec", "axes.axisbelow": True,
    "text.parse_math": False,  # a dollar sign in a note is a dollar sign
}  # fmt: skip


def picture(made: Trend, form: Literal["svg", "png"]) -> bytes:
    """The plot of a trend, 18 by 11 cm.  Raises UnusableInput where matplotlib is not installed."""
    try:
        from matplotlib import rc_context
        from matplotlib.figure import Figure
    except ImportError as error:
        raise UnusableInput("a plot needs matplotlib: install saidspec with its extra `plot`") from error
    file = BytesIO()
    with rc_context(LOOK):
        figure = Figure(figsize=(7.1, 4.3), layout="constrained")
        draw(figure.add_subplot(), made)
        metadata: dict[str, Any] = {"Date": None} if form == "svg" else {}
        figure.savefig(file, format=form, dpi=200, metadata=metadata)
    return file.getvalue()


def available() -> bool:
    """Whether plots can be drawn here."""
    from importlib.util import find_spec

    return find_spec("matplotlib") is not None


def inline_pictures(some: Sequence[Trend]) -> dict[int, str]:
    """The plots of those trends that have as many points as a line needs, as SVG inside HTML, by position.

    Empty where matplotlib is not installed: the tables say the same.
    """
    told = {}
    for position, made in enumerate(some):
        if len(made.points) >= FEWEST:
            try:
                text = picture(made, "svg").decode()
            except UnusableInput:
                return {}
            # Several pictures stand in one page: what they refer to within themselves gets a name of its own.
            text = re.sub(r'(id="|href="#|url\(#)', rf"\g<1>plot{position}-", text[text.index("<svg"):])
            told[position] = re.sub(r"<metadata>.*?</metadata>", "", text, flags=re.DOTALL)
    return told


def draw(axes: Axes, made: Trend) -> None:
    """The points, the line and its range, replacements, and the limit with where it is reached."""
    placed = [(made.at(point), point) for point in made.points]
    known = [(x, point) for x, point in placed if x is not None]
    present = len(made.renewals)
    former = [(x, point) for x, point in known if point.life < present]
    current = [(x, point) for x, point in known if point.life == present]
    _dots(axes, former, "o", "white", "former part")
    _dots(axes, [(x, point) for x, point in current if not point.estimated], "o", "black", "measured")
    _dots(axes, [(x, point) for x, point in current if point.estimated], "D", "black", "measured, reading estimated")
    _line(axes, made, [x for x, _ in current])
    for number, renewal in enumerate(made.renewals):
        at = float((renewal.day - made.origin).days) if made.axis == "day" else renewal.reading
        if at is not None:
            axes.axvline(float(at), color="black", linewidth=1, linestyle=(0, (1, 3)),
                         label=None if number else "replaced")  # fmt: skip
    _labels(axes, made)


def _dots(axes: Axes, some: list[tuple[float, TrendPoint]], marker: str, face: str, label: str) -> None:
    if some:
        axes.plot([x for x, _ in some], [float(point.value) for _, point in some], linestyle="none", marker=marker,
                  markersize=9, markerfacecolor=face, markeredgecolor="black", markeredgewidth=1.5, label=label,
                  zorder=3)  # fmt: skip


def _line(axes: Axes, made: Trend, xs: list[float]) -> None:
    line = made.line
    if line is not None and xs:
        ends = [x for x in (made.meets.likely, made.meets.most) if x is not None] if made.meets else []
        farthest = max(xs) + 2.5 * (max(xs) - min(xs))
        ahead = [min(xs), min(max([max(xs), *ends]), farthest)]
        middle = line.at(line.middle)
        axes.plot(ahead, [line.at(x) for x in ahead], color="black", linewidth=2, label="robust line")
        spread = sorted({*ahead, min(max(line.middle, ahead[0]), ahead[1])})
        steep, flat = ([middle + slope * (x - line.middle) for x in spread] for slope in (line.low, line.high))
        axes.fill_between(spread, steep, flat, color="0.85", label=f"its range, {line.coverage:.0%}")
    if made.limit is not None:
        axes.axhline(float(made.limit.value), color="black", linewidth=2, linestyle="--",
                     label=f"limit, {made.limit.bound}imum {made.limit.value:f} {shown_unit(made.unit)}")  # fmt: skip


def _labels(axes: Axes, made: Trend) -> None:
    axes.set_title(made.title, loc="left", fontweight="bold")
    axes.set_ylabel(f"{made.role or 'value'} in {shown_unit(made.unit)}")
    axes.grid(color="0.8", linewidth=0.6)
    if made.axis == "day":
        axes.set_xlabel("day")
        axes.xaxis.set_major_formatter(lambda x, _: f"{made.origin + timedelta(days=x):%b %Y}")
    else:
        axes.set_xlabel(f"odometer in {made.axis}")
        axes.xaxis.set_major_formatter(lambda x, _: f"{x:,.0f}")
    axes.xaxis.set_major_locator(_few())
    low, high = axes.get_ylim()
    axes.set_ylim(min(low, 0) if low < (high - low) * 0.5 else low, high)
    axes.legend(frameon=False, fontsize=10, loc="best")


def _few() -> Any:
    from matplotlib.ticker import MaxNLocator

    return MaxNLocator(nbins=6)
