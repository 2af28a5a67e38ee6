"""A class set as one page of HTML that stands by itself: plates first, the key on pages of its own behind them."""

from diagnose.teaching.class_set import ClassSet


def set_page(found: ClassSet) -> str:
    """The page; whatever was typed is escaped.

    Args:
        found: from `class_set`
    """
    from jinja2 import Environment, PackageLoader, StrictUndefined

    pages = Environment(
        loader=PackageLoader("diagnose.teaching"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    return pages.get_template("set.html").render(found=found)
