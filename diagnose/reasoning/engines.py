"""Which engine fires the rules: durable-rules, or the plain one where it cannot be loaded; never silently."""

from collections.abc import Sequence

from diagnose.reasoning.chaining import Chainer, Rule
from diagnose.reasoning.matching import PlainChainer

FALLBACK = (
    "durable-rules cannot be loaded here ({why}); the plain Python engine fires the same rules instead. "
    "README, 'Python 3.13', says how to mend it."
)


def best_chainer(rules: Sequence[Rule]) -> tuple[Chainer, str]:
    """The engine for one person at one plate.

    Args:
        rules: in order

    Returns:
        the engine, and one line to announce when it is not durable-rules ("" when it is)
    """
    try:
        from diagnose.reasoning.sifting import SiftedChainer
    except ImportError as error:
        return PlainChainer(rules), FALLBACK.format(
            why=str(error).splitlines()[0][:120] if str(error) else "not installed"
        )
    return SiftedChainer(rules), ""
