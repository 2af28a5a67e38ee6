"""The sum `bellows-factor`: how much longer to expose when the lens stands far from the plate."""

from diagnose.bench.left_out import maybe, told
from diagnose.bench.stops import doubts_of, seconds_to_give, stops_of
from diagnose.bench.sum import Amount, BenchError, MoreWantedError, Sum, Worked

WORTH_IT = 1.2  # times; less than a quarter of a stop nobody sees on a plate: judged
SHORTEST, SMALLEST = 5.0, 0.0001  # mm and times; less is a slip of the pen
ONE = "one of extension, magnification and subject_distance is enough"
SLACK = 0.98  # times the focal length; how much too short a rail may be measured


def bellows_factor(extension: float, focal_length: float) -> float:
    """How many times longer to expose, from the draw of the bellows.

    Args:
        extension: from the stop of the lens to the plate [mm]
        focal_length: of the lens [mm]

    Returns:
        the factor [times]

    Raises:
        BenchError: no focal length, or a draw shorter than it

    Assumes: a lens whose two pupils are of like size; portrait lenses nearly are, telephoto lenses are not. A draw
        up to 2 % short of the focal length is taken for it.
    Source: army_copying bellows extension; exact for a thin lens.

    >>> bellows_factor(18, 12)   # the manual's own example
    2.25
    """
    _above_nothing(extension=extension, focal_length=focal_length)
    if extension < focal_length * SLACK:
        raise BenchError(
            f"a draw of {extension:g} mm is shorter than the lens's {focal_length:g} mm, where nothing is sharp; "
            "measure from the stop of the lens to the plate"
        )
    return max(1.0, (extension / focal_length) ** 2)


def factor_at(magnification: float) -> float:
    """How many times longer to expose, from the size of the picture.

    Args:
        magnification: size on the plate over size of the thing [times]

    Returns:
        the factor [times]

    Raises:
        BenchError: a size below 0

    Source: army_copying bellows extension; exact for a thin lens.

    >>> round(factor_at(8 / 12), 2)   # the manual rounds to 2.8
    2.78
    """
    if not magnification >= 0:
        raise BenchError(f"magnification of {magnification:g}: 0 or more is wanted")
    return (1 + magnification) ** 2


def extension_for(focal_length: float, subject_distance: float) -> float:
    """How far to draw the bellows.

    Args:
        focal_length: of the lens [mm]
        subject_distance: from lens to sitter [mm]

    Returns:
        from the stop of the lens to the plate [mm]

    Raises:
        BenchError: the sitter is nearer than the focal length

    Source: exact for a thin lens.

    >>> round(extension_for(360, 1500), 1)   # bellows_page prints 500, from reciprocals rounded on the way
    473.7
    """
    return focal_length * (1 + magnification_at(focal_length, subject_distance))


def distance_for(focal_length: float, extension: float) -> float:
    """How far off the thing stands that is sharp at a draw of the bellows.

    Args:
        focal_length: of the lens [mm]
        extension: from the stop of the lens to the plate [mm]

    Returns:
        from lens to sitter [mm]

    Raises:
        BenchError: the draw is not longer than the focal length

    Source: bellows_page; exact for a thin lens.

    >>> round(distance_for(200, 315))   # bellows_page: 547
    548
    """
    _above_nothing(focal_length=focal_length, extension=extension)
    if extension <= focal_length:
        raise BenchError(
            f"at a draw of {extension:g} mm this lens is sharp for nothing near; draw it past {focal_length:g}"
        )
    return focal_length * extension / (extension - focal_length)


def magnification_at(focal_length: float, subject_distance: float) -> float:
    """How large a thing comes on the plate.

    Args:
        focal_length: of the lens [mm]
        subject_distance: from lens to sitter [mm]

    Returns:
        size on the plate over size of the thing [times]

    Raises:
        BenchError: the sitter is nearer than the focal length

    Source: bellows_page; exact for a thin lens.

    >>> round(magnification_at(300, 3048), 3)   # bellows_page: 10.9 %
    0.109
    """
    _above_nothing(focal_length=focal_length, subject_distance=subject_distance)
    if subject_distance <= focal_length:
        raise BenchError(
            f"nothing at {subject_distance:g} mm can be sharp with a lens of {focal_length:g} mm; move back past that"
        )
    return focal_length / (subject_distance - focal_length)


def _above_nothing(**lengths: float) -> None:
    for name, length in lengths.items():
        if not length > 0:
            raise BenchError(f"{name} of {length:g} mm: more than 0 is wanted")


def _work(focal_length: float, extension: float, magnification: float, subject_distance: float, time: float) -> Worked:
    given = (
        told("extension", extension, SHORTEST, "mm"),
        told("magnification", magnification, SMALLEST, "times"),
        told("subject_distance", subject_distance, SHORTEST, "mm"),
    )
    if not any(given):
        raise MoreWantedError("tell one of extension, magnification and subject_distance")
    if sum(given) != 1:
        raise BenchError("tell only one of extension, magnification and subject_distance: each follows from the others")
    if not told("focal_length", focal_length, SHORTEST, "mm") and not magnification:
        raise MoreWantedError("tell focal_length too: only with magnification it can be left out")
    if extension:
        factor = bellows_factor(extension, focal_length)
        size = factor**0.5 - 1
    else:
        size = magnification or magnification_at(focal_length, subject_distance)
        factor = factor_at(size)
    amounts = [
        Amount("factor", "expose longer by", factor, "times"),
        Amount("stops", "or open the lens by", stops_of(factor), "stops"),
        Amount("magnification", "the picture against the thing itself", size, "times"),
    ]
    beware: tuple[str, ...] = ()
    if told("time", time, 0.001, "s"):
        amounts.insert(1, seconds_to_give("seconds", "expose", time * factor))
        beware = doubts_of(time * factor)
    if focal_length:
        amounts.append(
            Amount("extension", "draw from the stop of the lens to the plate", focal_length * (1 + size), "mm")
        )
    do = "So little is not worth a thought." if factor < WORTH_IT else "Do one of the two, not both."
    return Worked(
        amounts=tuple(amounts),
        do=(do,),
        beware=(
            *beware,
            "Holds for ordinary lenses; with a telephoto lens, or a lens measured from its front, it is off.",
        ),
    )


SUMS: tuple[Sum, ...] = (
    Sum(
        name="bellows-factor",
        title="How much longer to expose with the bellows drawn out",
        asks=(
            maybe("focal_length", "What is the focal length of the lens", "mm", 3000.0, "magnification needs none"),
            maybe("extension", "How far is it from the stop of the lens to the plate", "mm", 10_000.0, ONE),
            maybe(
                "magnification",
                "How large does a thing come on the plate: 1 for its own size, 0.5 for half of it",
                "times",
                50.0,
                ONE,
            ),
            maybe("subject_distance", "How far is it from the lens to the sitter", "mm", 1_000_000.0, ONE),
            maybe("time", "Which exposure would be right far away", "s", 3600.0, "the factor alone is given"),
        ),
        work=_work,
        formula="(extension / focal length)² = (1 + magnification)²; magnification = focal length / (distance - focal length)",
        holds="any lens whose pupils are of like size, focused sharp",
        accuracy="1 % in the draw is 2 % in the factor; distances under ten focal lengths want measuring from the stop",
        sources=("army_copying bellows extension", "bellows_page", "exact"),
    ),
)
