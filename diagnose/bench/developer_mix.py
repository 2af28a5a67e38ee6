"""Alcohol and acetic acid of the iron developer."""

from diagnose.bench.acids import GLACIAL, moles_per_litre, poured_with
from diagnose.bench.sum import Amount, Asked, BenchError, Sum, Worked

# Alcohol in the finished developer as the bath fills with it: 1 to 5 parts beside 84 of the rest, the middle judged.
ALCOHOL_WANTED = {"new": 100 / 85, "used": 300 / 87, "old": 500 / 89}
BATH_AGES = {
    "new": "few plates through it, flows with little or no alcohol",
    "used": "in regular use",
    "old": "many plates through it, smells of spirit",
}
ALCOHOL = 95.0  # % by volume, as it is sold: what the book's parts are taken to be


def alcohol_to_add(volume: float, present_percent: float, wanted_percent: float, alcohol_percent: float) -> float:
    """Alcohol that brings a developer to a wanted share.

    Args:
        volume: of developer as it is [mL]
        present_percent: alcohol in it, by volume of what is sold as 95 % [%]
        wanted_percent: wanted, the same way [%]
        alcohol_percent: strength of the alcohol at hand, by volume [%]

    Returns:
        alcohol at hand [mL]

    Holds: volumes taken as adding up; the shrinking is under 1 %.
    Source: exact; wilkinson: 5 parts beside 84 of the rest.

    >>> round(alcohol_to_add(84, 0, 500 / 89, 95), 2)
    5.0
    """
    return volume * (wanted_percent - present_percent) / (100 * alcohol_percent / ALCOHOL - wanted_percent)


def acid_to_add(volume: float, present_percent: float, wanted_percent: float, percent: float) -> float:
    """Acetic acid that raises the acid of a developer.

    Args:
        volume: of developer as it is [mL]
        present_percent: mL of glacial acid in 100 mL of it [%]
        wanted_percent: wanted, the same way [%]
        percent: strength of the acid at hand, by weight [%]

    Returns:
        acid at hand [mL]

    Raises:
        BenchError: less is wanted than there is, or the acid at hand is too weak to get there

    Holds: volumes taken as adding up.
    Source: exact; vector: 95 mL of water and 5 of glacial are 5 %.

    >>> round(acid_to_add(95, 0, 5, 99.5), 2)
    5.0
    """
    if wanted_percent <= present_percent:
        raise BenchError(
            f"the developer has {present_percent:g} % already: put none in; to have less, mix more without acid to it"
        )
    share = 100 * moles_per_litre("acetic", percent) / moles_per_litre("acetic", GLACIAL)
    if share <= wanted_percent:
        raise BenchError(
            f"acid of {percent:g} % is too weak to bring a developer to {wanted_percent:g} %; take stronger acid"
        )
    return volume * (wanted_percent - present_percent) / (share - wanted_percent)


def developer_alcohol(volume: float, bath_age: str, present_percent: float, alcohol_percent: float) -> Worked:
    """Alcohol for a developer, by how much spirit the bath has taken up.

    Raises:
        BenchError: there is enough in it
    """
    wanted = ALCOHOL_WANTED[bath_age]
    if present_percent >= wanted:
        raise BenchError(
            f"the developer has {present_percent:g} % alcohol, enough for such a bath (about {wanted:.2g} %): put none in"
        )
    add = alcohol_to_add(volume, present_percent, wanted, alcohol_percent)
    beware = ["How much is right is seen on the plate; this is one old book's range, its middle is our own."]
    if bath_age == "new":
        beware.append("A new bath may want none: try the developer without it first.")
    if alcohol_percent < 90:
        beware.append("So weak a spirit brings water with it and thins the developer.")
    amounts = (
        Amount("alcohol", f"alcohol of {alcohol_percent:g} %, at most", add, "mL", poured_with(add), never_over=True),
        Amount("share", "alcohol the developer then holds, by volume", wanted, "%", figures=2),
    )
    do = (
        "Try the share of one plate in its measure first; leave the bottle alone until that plate is right.",
        "Put the alcohol in last, stirring, when iron and acid are dissolved.",
        "Stop as soon as the developer spreads over the film by itself, without drops or rivers.",
    )
    return Worked(amounts, do, tuple(beware))


def developer_acid(volume: float, present_percent: float, wanted_percent: float, percent: float) -> Worked:
    """Acetic acid that brings a developer from one share of acid to another.

    Raises:
        BenchError: as `acid_to_add`
    """
    add = acid_to_add(volume, present_percent, wanted_percent, percent)
    beware = [
        "Shares are mL of glacial acid in 100 mL of developer; of weaker acid more is needed, and that is reckoned here."
    ]
    if wanted_percent > 8:
        beware.append("Old positive developers stop at about 8 %; beyond it the picture comes slowly and hard.")
    if percent < 50:
        beware.append("So weak an acid brings water with it and thins the iron too.")
    amounts = (Amount("acid", f"acetic acid of {percent:g} %", add, "mL", poured_with(add), never_over=True),)
    do = (
        "Try the share of one plate in its measure first; leave the bottle alone until that plate is right.",
        "Let the acid run into the developer a little at a time, stirring.",
        "Stop when the darks stay clear. If the picture turns slow, hard or patchy there is too much.",
    )
    return Worked(amounts, do, tuple(beware))


VOLUME = Asked(name="volume", ask="How much developer is there?", unit="mL", range=(20, 20_000))
DEVELOPER_ALCOHOL = Sum(
    name="developer-alcohol",
    title="How much alcohol a developer wants as the bath ages",
    asks=(
        VOLUME,
        Asked(name="bath_age", ask="How is the silver bath?", choices=BATH_AGES),
        Asked(
            name="present_percent",
            ask="How much alcohol is in the developer now, by volume?",
            unit="%",
            range=(0, 30),
            usual=0.0,
            usual_because="mixed without",
        ),
        Asked(
            name="alcohol_percent",
            ask="What percent by volume is the alcohol at hand?",
            unit="%",
            range=(60, 100),
            usual=ALCOHOL,
            usual_because="as it is mostly sold",
        ),
    ),
    work=developer_alcohol,
    formula="mL = mL of developer x (wanted - present) / (strength at hand - wanted)",
    holds="1.2 to 5.6 % by volume, as one book of half-tone work gives it; other books have 5 %, and 11 % for negatives",
    accuracy="1 % in the sum; what the bath wants is anyone's guess within its range",
    sources=(
        "wilkinson-engraving developer",
        "vogel_lehrbuch p. 306",
        "towler1864 ch. XVI no. 1",
        "wilson1881 Fogging part 6",
        "humphrey1857 p. 144",
        "judged",
    ),
    cautions=("ether-and-alcohol", "iron-developer"),
)
DEVELOPER_ACID = Sum(
    name="developer-acid",
    title="How much acetic acid brings a developer to more acid",
    asks=(
        VOLUME,
        Asked(
            name="present_percent",
            ask="How much acid is in it now, as mL of glacial acid in 100 mL?",
            unit="%",
            range=(0, 20),
        ),
        Asked(
            name="wanted_percent", ask="How much should there be, as mL of glacial in 100 mL?", unit="%", range=(0, 20)
        ),
        Asked(
            name="percent", ask="What percent by weight is the acid at hand, by its label?", unit="%", range=(3, 100)
        ),
    ),
    work=developer_acid,
    formula="mL = mL of developer x (wanted - present) / (strength at hand against glacial - wanted)",
    holds="to 20 %; books for positives have 0.1 to 8 %",
    accuracy="1 % in the sum",
    sources=(
        "crc-handbook Concentrative Properties of Aqueous Solutions",
        "exact",
        "hunt1853 collodion part 5",
        "estabrooke1887 p. 19",
        "towler1864 ch. XVI no. 1",
        "humphrey1857 p. 63",
    ),
    cautions=("acetic-acid", "iron-developer", "cyanide-and-acid"),
)
