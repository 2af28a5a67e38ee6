"""A review as one page of HTML that stands by itself: no network, charts as drawings inside it, dark or light, and it prints."""

from functools import cache
from typing import TYPE_CHECKING, Any

from diagnose.bands import percent
from diagnose.daybook import charts
from diagnose.daybook import review_words as words
from diagnose.daybook.reviewed import Review

if TYPE_CHECKING:
    from jinja2 import Environment

TEMPLATE = "review.html"


def review_page(review: Review) -> str:
    """The page.

    Args:
        review: of some days
    """
    return (
        _room()
        .get_template(TEMPLATE)
        .render(
            review=review,
            words=words,
            strip=charts.strip(review),
            pareto=charts.pareto(review),
            trend=charts.trend(review),
        )
    )


@cache
def _room() -> "Environment":
    """Where pages are written; everything put in is escaped."""
    from jinja2 import Environment, PackageLoader, StrictUndefined, select_autoescape

    room = Environment(
        loader=PackageLoader("diagnose.daybook", "templates"),
        autoescape=select_autoescape(default=True, default_for_string=True),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    filters: dict[str, Any] = {
        "percent": percent,
        "share": words.share,
        "sure": words.how_sure,
        "capitalize_first": words.upper_first,
    }
    room.filters.update(filters)
    return room
