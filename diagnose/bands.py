"""Words for a probability, always shown beside the number. Bands: IPCC guidance on the treatment of uncertainty (2010)."""

BANDS = (
    (0.99, "virtually certain"),
    (0.90, "very likely"),
    (0.66, "likely"),
    (0.33, "about as likely as not"),
    (0.10, "unlikely"),
    (0.01, "very unlikely"),
    (0.0, "exceptionally unlikely"),
)


def band(probability: float) -> str:
    """The word for a probability.

    Args:
        probability: from 0 to 1

    >>> band(0.7)
    'likely'
    """
    return next((words for least, words in BANDS if probability > least), BANDS[-1][1])


def percent(probability: float) -> str:
    """A probability as a whole percent, never 0 or 100.

    >>> percent(0.9999)
    '99%'
    """
    return f"{min(99, max(1, round(probability * 100)))}%"
