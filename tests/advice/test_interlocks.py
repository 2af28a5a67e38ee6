"""What can kill, blind or burn: every remedy under every fixer from the outside, and every sentence of the knowledge.

Each interlock is a rule of its own here, reckoned from what a remedy puts in and from its words, not from the code it tests;
and each is shown to bite on a remedy that is bad on purpose.
"""

import ast
import dataclasses
import io
import json
import re
from pathlib import Path

import pytest

import diagnose
from diagnose import bench
from diagnose.advice.actions import Action, checks_action, with_cautions
from diagnose.advice.planning import Plan
from diagnose.bench.table import SUMS
from diagnose.errors import KnowledgeError
from diagnose.facts import understand
from diagnose.plate import Plate
from diagnose.reasoning.craft import craft_of, make_craft
from diagnose.reasoning.weighing import fire
from diagnose.talk import commands
from diagnose.talk.theme import make_look

FIXERS = {
    "not told": {},
    "not known": {"fixer": "?"},
    "hypo": {"fixer": "hypo"},
    "rapid": {"fixer": "rapid"},
    "cyanide": {"fixer": "cyanide"},
}
HARMLESS = {"hypo", "rapid"}
WET_STAGES = {"development", "fixing", "washing-and-drying"}
BATH = "silver-bath"

# What a remedy puts in, by its own words: something done with it, not something warned of or taken away. ---------------------

PUTS_IN = {
    "acid": re.compile(
        r"\b(add|pour|put|drop|stir|mix|give|let fall|thin)\b[^.;:]*\bacid\b|\bthe acid into\b|\bacid drop by drop\b",
        re.IGNORECASE,
    ),
    "silver": re.compile(
        r"\b(dissolve|add|weigh|stir|bring)\b[^.;:]*\bsilver nitrate\b|\bwith silver nitrate\b", re.IGNORECASE
    ),
    "alkali": re.compile(
        r"\b(dissolve|add|put|with|pinch of)\b[^.;:]*\b(bicarbonate|carbonate|soda|alkali|ammonia)\b", re.IGNORECASE
    ),
    "spirit": re.compile(
        r"\b(add|put|pour|rub|wipe|rinse|thin|dissolved|mixed|last)\b[^.;:]*\b(alcohol|ether|spirit)\b(?! out\b)",
        re.IGNORECASE,
    ),
    "nitric": re.compile(r"\bnitric acid\b", re.IGNORECASE),
}
LEFT_OUT = re.compile(
    r"\bleave the alcohol out\b|\bnever\b|\bno acid\b|\bdo not\b|\blet no\b|\brinse all\b", re.IGNORECASE
)


def puts_in(remedy, what):
    listed = {
        "acid": {"acid"},
        "silver": {"silver"},
        "alkali": {"alkali"},
        "spirit": {"alcohol", "ether-alcohol"},
        "nitric": set(),
    }
    sentences = [
        part for part in re.split(r"(?<=[.;:])\s+", f"{remedy.title}. {remedy.say}") if not LEFT_OUT.search(part)
    ]
    return bool(listed[what] & set(remedy.adds)) or any(PUTS_IN[what].search(part) for part in sentences)


# The interlocks ---------------------------------------------------------------


def words_of(names, knowledge):
    return " ".join(f"{knowledge.cautions[name].title}. {knowledge.cautions[name].say}" for name in names).casefold()


def lacking(remedy, cautions, fixer, knowledge):
    """Which interlock a remedy lacks among the cautions that stand beside it."""
    said, found = words_of(cautions, knowledge), []
    if puts_in(remedy, "acid") and fixer not in HARMLESS:
        if "cyanide-and-acid" not in cautions:
            found.append("acid without the cyanide caution")
        found += [
            f"acid without {words!r}" for words in ("hydrogen cyanide", "separate trays", "wash") if words not in said
        ]
    if fixer == "cyanide" and remedy.stage in WET_STAGES and "cyanide-and-acid" not in cautions:
        found.append("wet work beside cyanide without its caution")
    if puts_in(remedy, "silver") and not ("silver-nitrate" in cautions and "goggles" in said):
        found.append("silver nitrate without goggles")
    if remedy.touches == BATH and "silver-nitrate" not in cautions:
        found.append("work on the bath without goggles")
    if puts_in(remedy, "alkali") and remedy.touches == BATH and "ammonia-and-silver" not in cautions:
        found.append("alkali into the bath without the warning of ammonia")
    if puts_in(remedy, "spirit") and "no flame" not in said:
        found.append("ether or alcohol without no flame")
    if puts_in(remedy, "nitric") and not ("drop by drop" in said and "never the reverse" in said):
        found.append("nitric acid without drop by drop")
    return found


@pytest.fixture(scope="module")
def answers(knowledge):
    """One answer for each fixer; its plan is exchanged for the action in hand."""
    found = {}
    for fixer, conditions in FIXERS.items():
        answer = diagnose.diagnose({"conditions": conditions}, knowledge)
        answer.worth_asking = lambda **_: []  # questions are no part of this, and take their time
        found[fixer] = answer
    return found


def whole(name, firing, craft):
    """A remedy as an action with everything that stands beside it, whatever the plate."""
    remedy = craft.knowledge.remedies[name]
    treated = next(
        (cause for cause, entry in craft.knowledge.causes.items() if any(link.do == name for link in entry.remedy)),
        None,
    )
    plain = Action(
        id=name,
        kind="remedy",
        helps=0.5,
        causes=((treated, 0.5),) if treated else (),
        cost=10.0,
        minutes=remedy.minutes,
        plates=remedy.plates,
        reversible=remedy.reversible,
        cautions=(),
    )
    return with_cautions(plain, firing, craft)


def screen_and_json(answer, action, capsys):
    answer.plan = Plan("find-out", action, (), (), ())
    screen = io.StringIO()
    commands.show_answer(answer, make_look(plain=True, width=90, file=screen))
    capsys.readouterr()
    commands.print_json(answer)
    return " ".join(screen.getvalue().split()), json.loads(capsys.readouterr().out)


@pytest.mark.parametrize("fixer", FIXERS)
def test_every_remedy_under_every_fixer(fixer, answers, knowledge, capsys):
    answer, danger = answers[fixer], knowledge.cautions["cyanide-and-acid"]
    beside_cyanide = 0
    for name, remedy in knowledge.remedies.items():
        action = whole(name, answer.firing, answer.craft)
        assert not lacking(remedy, action.cautions, fixer, knowledge), name
        screen, out = screen_and_json(answer, action, capsys)
        assert out["next_action"]["cautions"] == list(action.cautions)
        told = {caution["id"] for caution in out["cautions"]}
        assert told >= set(action.cautions)
        for caution in action.cautions:
            assert knowledge.cautions[caution].title in screen, (name, caution)
        if fixer == "cyanide":
            assert danger.title in screen, name
            assert "cyanide-and-acid" in told, name
            assert danger.say in {caution["say"] for caution in out["cautions"]}
            if remedy.stage in WET_STAGES:
                beside_cyanide += 1
                assert screen.index(danger.title) < screen.index(" ".join(remedy.say.split())[:30]), name
        if fixer in HARMLESS:
            assert danger.title not in screen, name
    assert beside_cyanide > 10 or fixer != "cyanide"


@pytest.mark.parametrize("fixer", FIXERS)
def test_every_check_under_every_fixer(fixer, answers, knowledge, capsys):
    """A proving plate is developed and fixed: with cyanide in use its warning stands beside it."""
    answer, danger = answers[fixer], knowledge.cautions["cyanide-and-acid"].title
    for name, check in knowledge.checks.items():
        action = with_cautions(checks_action(name, 0.5, answer.craft), answer.firing, answer.craft)
        screen, out = screen_and_json(answer, action, capsys)
        assert set(check.caution) <= set(out["next_action"]["cautions"])
        assert (danger in screen) == (fixer == "cyanide"), name
        if check.station == "proving-plate":
            assert ("cyanide-and-acid" in action.cautions) == (fixer == "cyanide"), name
        if re.search(r"\b(bath|silver)\b", check.do) and re.search(
            r"\b(drop|dip|float|sensitise|lift the cover)\b", check.do, re.IGNORECASE
        ):
            assert "silver-nitrate" in action.cautions, name


def test_a_whole_diagnosis_carries_the_cautions_too(written_plates, knowledge):
    """Not only the parts: every written plate, told again with cyanide in use, warns on the answer and beside each wet action."""
    for told in written_plates[::4]:
        answer = diagnose.diagnose(
            {**told, "conditions": {**told.get("conditions", {}), "fixer": "cyanide"}}, knowledge
        )
        assert "cyanide-and-acid" in answer.cautions()
        plan = answer.plan
        for action in (plan.first, *plan.together, *plan.then, *plan.later):
            if action and action.kind == "remedy":
                assert not lacking(knowledge.remedies[action.id], action.cautions, "cyanide", knowledge), action.id


def test_the_words_find_what_is_put_in(knowledge):
    """The rules above are not blind: what each is known to find, and to leave alone."""
    found = {what: {name for name, remedy in knowledge.remedies.items() if puts_in(remedy, what)} for what in PUTS_IN}
    assert found["acid"] >= {"acidify-the-bath", "add-acid-to-developer", "mix-fresh-developer"}
    assert found["silver"] >= {"strengthen-the-bath", "dilute-filter-restore-bath"}
    assert found["alkali"] >= {"ease-acid-of-bath", "sun-the-bath"}
    assert found["spirit"] >= {
        "more-alcohol-in-developer",
        "thin-the-collodion",
        "mix-fresh-developer",
        "clean-plate-again",
    }
    assert found["nitric"] == {"acidify-the-bath", "leave-out-the-nitric"}
    assert not found["acid"] & {"weaken-the-fixer", "fix-longer-or-fresh", "rinse-before-fixing", "ease-acid-of-bath"}
    assert len(found["spirit"]) < 16


# Bad on purpose ---------------------------------------------------------------

BAD = {
    "acid, cyanide forgotten": (
        {
            "say": "Add nitric acid drop by drop to the bath.",
            "touches": BATH,
            "caution": ("silver-nitrate", "nitric-acid"),
        },
        "not told",
        "acid without the cyanide caution",
    ),
    "wet work, cyanide forgotten": (
        {"say": "Give it another minute.", "touches": "hand", "stage": "nowhere"},
        "cyanide",
        "wet work beside cyanide without its caution",
    ),
    "silver, goggles forgotten": (
        {"say": "Dissolve silver nitrate in a little water and stir it in.", "touches": "developer"},
        "hypo",
        "silver nitrate without goggles",
    ),
    "bath, goggles forgotten": (
        {"say": "Pour the bath into another tank.", "touches": BATH},
        "hypo",
        "work on the bath without goggles",
    ),
    "alkali, ammonia forgotten": (
        {"say": "Put a pinch of bicarbonate in.", "touches": BATH, "caution": ("silver-nitrate",)},
        "hypo",
        "alkali into the bath without the warning of ammonia",
    ),
    "spirit, flame forgotten": (
        {"say": "Add ether and alcohol until it flows.", "touches": "collodion"},
        "hypo",
        "ether or alcohol without no flame",
    ),
    "nitric, drops forgotten": (
        {"say": "Pour nitric acid into the developer.", "touches": "developer", "caution": ("cyanide-and-acid",)},
        "hypo",
        "nitric acid without drop by drop",
    ),
}


@pytest.mark.parametrize(("changes", "fixer", "expected"), BAD.values(), ids=BAD)
def test_each_interlock_bites(changes, fixer, expected, knowledge):
    plain = dataclasses.replace(
        knowledge.remedies["sweep-developer-on"], adds=(), caution=(), needs=(), never_when=(), title="Bad"
    )
    bad = dataclasses.replace(plain, **changes)
    craft = make_craft(
        dataclasses.replace(
            knowledge, version=f"bad {expected}", remedies={**knowledge.remedies, "sweep-developer-on": bad}
        )
    )
    firing = fire(understand(Plate.read({"conditions": FIXERS[fixer]}), craft.knowledge), craft, craft.bulk)
    action = whole("sweep-developer-on", firing, craft)
    judged = dataclasses.replace(bad, stage="development") if bad.stage == "nowhere" else bad
    assert expected in lacking(judged, action.cautions, fixer, craft.knowledge)


@pytest.mark.parametrize(
    ("adds", "caution"),
    [
        ("acid", "cyanide-and-acid"),
        ("silver", "silver-nitrate"),
        ("alkali", "ammonia-and-silver"),
        ("alcohol", "ether-and-alcohol"),
    ],
)
@pytest.mark.parametrize("fixer", ["not told", "not known", "cyanide"])
def test_what_says_it_adds_something_gets_the_caution_though_it_was_forgotten(adds, caution, fixer, knowledge):
    """The second net: a file that names what is put in, and forgets the caution, still gets it."""
    bad = dataclasses.replace(knowledge.remedies["sweep-developer-on"], adds=(adds,), caution=())
    craft = make_craft(
        dataclasses.replace(
            knowledge, version=f"forgot {adds}", remedies={**knowledge.remedies, "sweep-developer-on": bad}
        )
    )
    firing = fire(understand(Plate.read({"conditions": FIXERS[fixer]}), craft.knowledge), craft, craft.bulk)
    assert caution in whole("sweep-developer-on", firing, craft).cautions


def test_the_checker_refuses_a_file_that_forgets(tmp_path):
    """The first net: such a file, laid over the knowledge, is not even read."""
    folder = tmp_path / "remedies" / "silver-bath"
    folder.mkdir(parents=True)
    (folder / "acidify-the-bath.toml").write_text(
        'title = "Acid"\nsay = "Pour acid in."\nminutes = 5\nreversible = false\ntouches = "silver-bath"\nadds = ["acid"]\n'
        'from = ["judged"]\n',
        "utf-8",
    )
    with pytest.raises(KnowledgeError) as refused:
        diagnose.read_knowledge(None, tmp_path)
    said = " ".join(map(str, refused.value.problems))
    assert "adds acid without its caution" in said
    assert "without a finding that supports it" in said
    assert "without a stop sign" in said


# Every sentence ---------------------------------------------------------------


WHOLE = "all of it"


def texts_of(value, place=()):
    """Every text of the knowledge with where it stands; a remedy's and a check's words also as one piece."""
    if dataclasses.is_dataclass(value):
        fields = {field.name: getattr(value, field.name) for field in dataclasses.fields(value)}
        if "say" in fields or ("do" in fields and "title" in fields):
            parts = [fields.get(name, "") for name in ("title", "say", "do", "see", "stop")]
            yield (*place, WHOLE), " ".join(part for part in parts if isinstance(part, str) and part)
        value = fields
    if isinstance(value, str):
        if " " in value:  # names are no sentences
            yield place, value
    elif isinstance(value, dict):
        for name, part in value.items():
            if name not in {"from_", "needs", "when", "unless", "never_when"}:
                yield from texts_of(part, (*place, name))
    elif isinstance(value, tuple | list):
        for number, part in enumerate(value, start=1):
            yield from texts_of(part, (*place, str(number)))


def texts(knowledge):
    for kind in ("remedies", "causes", "checks", "cautions", "conditions", "states", "symptoms", "solutions"):
        yield from texts_of(getattr(knowledge, kind), (kind,))
    for path in sorted(Path(bench.__file__).parent.glob("*.py")):
        yield from texts_in(path.read_text("utf-8"), ("bench", path.stem))


def texts_in(source, place):
    """Every sentence a module of the bench may say, whatever it is given; what is filled in stands as "…"."""
    unsaid = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.JoinedStr):
            unsaid |= {id(part) for part in ast.walk(node)}
            yield place, "".join(part.value if isinstance(part, ast.Constant) else "…" for part in node.values)
        elif isinstance(node, ast.Module | ast.FunctionDef | ast.ClassDef) and ast.get_docstring(node, clean=False):
            unsaid.add(id(node.body[0].value))
        elif isinstance(node, ast.Constant) and id(node) not in unsaid and " " in str(node.value):
            yield place, str(node.value)


def sentences(text):
    return [part.strip() for part in re.split(r"(?<=[.;:?!])\s+", text) if part.strip()]


# A hot plate in two words is a warm glass in this trade, unless a vessel is set on it.
VESSEL = r"the (silver |old )?(bath|collodion|developer|varnish|dish|bottle|ether|alcohol)"
FLAME = r"flame|fire\b|stove|hot-?plate|(bath|dish|bottle|tank|bowl)\b[^.;:]*\bhot plate|burner|spirit lamp|bunsen|candle|glowing"
# One sentence about any of these is looked at by eye, and stands below if it warns, explains or asks and gives no recipe.
CYANIDE = re.compile(r"cyanid|prussic|hydrocyan", re.IGNORECASE)
ACIDS = re.compile(r"acid|vinegar|nitric|acetic|sulphuric|developer", re.IGNORECASE)
TOPICS = {
    "ammonia": re.compile(
        r"ammonia|ammoniac|hartshorn|ammonium hydroxide|aqua ammon|\bNH3\b|\bNH4OH\b|fulminat", re.IGNORECASE
    ),
    "boiling or a flame": re.compile(
        rf"\bboil|\bsimmer|evaporat|distil(l(?!ed)|$)|\bheat(ed|ing)? (up |down )?({VESSEL}|your|it)\b|{FLAME}",
        re.IGNORECASE,
    ),
}
HARMLESS_SENTENCES = {
    "ammonia": {
        # asks, or tells how the air spoils plates
        "Are ammonia, turpentine, paint or smoke in the air of the darkroom?",
        "Ammonia, turpentine, paint or smoke in the air acts on the wet film and veils it.",
        "Open bottles of ammonia, turpentine or the like, tobacco smoke and a heated glasshouse are named as the cause.",
        "Ammonia uses up the trace of acid that keeps the film clean;",
        "Close and carry out ammonia, turpentine, paint and anything else that smells, and let no one smoke.",
        # how others clean bare plates: no silver is near, and it is not advised
        "others clean with acid, potash or ammonia and rinse them well away.",
        # forbids
        "Never use ammonia.",
        "Never ammonia with the silver bath",
        "Ammonia and silver make compounds that explode, also on standing or drying:",
        "never mix ammonia with a silver bath, and never sun a bath that has had ammonia.",
        "Never let a silver bath that holds alcohol meet ammonia, or nitric acid with heat:",
        "silver fulminate can form.",
        "Never put ammonia to it, whatever an old book says.",
        "Vogel takes a little ammonia, which has no business beside a silver bath.",
        "Never ammonia.",
        # what to do if it has happened; which salt holds it
        (
            "if ammonia may have got in, put nothing in, leave it unmoved and out of the sun, and call the hazardous-materials "
            "service"
        ),
        "an alkali sets ammonia free from it, and ammonia with silver makes compounds that explode.",
    },
    "cyanide and acid": {
        "Cyanide, old or new, must never meet acid, developer or another fixer.",
        "If cyanide and developer have met, a deadly gas forms:",
        "The developer is acid as well, and acid with cyanide frees a deadly gas:",
        "Never mix one fixer with another, and let no acid or developer near cyanide.",
        "Never let acid meet cyanide",
        "Acid and cyanide give off hydrogen cyanide, a gas that kills and that many people cannot smell;",
        "It is acid enough to free gas from cyanide, so wash the plate well before any fixer.",
        "How little cyanide, met by acid, makes the air of a darkroom deadly",
        "Keep acid and developer away from cyanide:",
        "Acid comes near neither plate nor wash water;",
    },
    "acid the wrong way round": {"Never water into acid."},
    # tells what frees the gas
    "nitric acid other than drop by drop into water or bath": {
        "a drop of developer, vinegar or nitric acid sets much more free."
    },
    "boiling or a flame": {
        # the second slice: warnings, flash light, and what heat does by itself
        "No flame, fresh air, and only ether from a fresh, dated bottle.",
        "Never on a heater, in the sun or near a flame;",
        "No flame near.",
        "No flame near the bottle.",
        "No sun, no stove, no hot air on the wet film.",
        "Ether boils at about 35 °C, so a few degrees change how fast a film sets.",
        "A small flash, or one that did not fire, leaves nothing to develop.",
        "If the slide was out and the flash was seen to fire, it was the flash.",
        "In great heat the bath gives pale, slow plates and throws out iodide crystals.",
        "Some dry over a lamp or near a stove, slowly and steadily;",
        # the bench and the solutions: forbids, or counts what has gone off by itself
        "thin acid only, and never heat it with acid in it.",
        "Before you strengthen it, let it stand open in a wide dish, in moving air, no flame near;",
        "No flame and moving air;",
        "warm the bottle in water, stopper loose, never over a flame.",
        "No flame, heater, switch or phone charger below or beside the pouring place;",
        "Stand the bottle in water of the room's warmth for half an hour, no flame near, then feel it again.",
        "Put out every flame and air the room low down.",
        "Put out every flame.",
        "Filter, add the alcohol away from any flame, and fill up with water to the mark.",
        "In great heat it may still come too fast:",
        "lost, what has evaporated, or share, by how much to thin",
        "How much has evaporated since it was full?",
        "a shut room at 20 °C, all of it evaporated and evenly spread, which it never is;",
        (
            "own minutes x film x (plate / 234 cm²)^(1/8) x evaporation on the ordinary day / evaporation now, with "
            "evaporation = (25 + 19 m/s) x (humidity ratio at the wet bulb - that of the air)"
        ),
        "ntp-ether fire hazards",
        "Vapour and fire",
        # forbids
        "No flame.",
        (
            "Rest the bath in a wide glass or porcelain dish, under a clean cloth held off the liquid, where air moves "
            "and no flame or spark is near."
        ),
        "If it has happened, do not move, dry or heat it;",
        "No flame and no stove:",
        "No flame and no hotplate:",
        "No flame and no hot lamp near, and fresh air.",
        "do not warm the bottle or try to boil it off.",
        "Never boil it or set it over heat.",
        "no flame, no spark",
        "no flame",
        "gloves and goggles, no flame, and nothing of it in the silver bath.",
        "Then brush them with asphalt varnish or shellac, in moving air, away from any flame.",
        "Warm it evenly, with no flame or glowing heat, until the back feels like warm milk on the wrist;",
        "Keep naked flames away from ether, alcohol and varnish.",
        "both creep along floor and bench to any flame, spark or hot surface.",
        "Varnish is mostly alcohol and lights from any flame or glowing surface.",
        (
            "Warm the plate away from the open bottle, with a closed warm surface or warm air and never over a flame "
            "or spirit lamp, and keep air moving through the room."
        ),
        "Have a lid or fire blanket at hand.",
        "It feeds fire and harms water life:",
        "Strong acetic acid burns skin and eyes, and its vapour bites and can catch fire.",
        # tells what the books did, and why it is not done here
        "The books boil the bath, an hour or down to half.",
        "Spirit over a flame burns and hot silver solution spits, so here it is left open in moving air.",
        (
            "The books work by a subdued oil lamp or candle, by one small orange-yellow pane with a curtain, or by a window under "
            "double yellow calico."
        ),
    },
}
# Whole remedies and whole paragraphs that speak of both cyanide and an acid, in whatever sentences: each read by eye.
BOTH_BY_EYE = {
    "remedies/fix-longer-or-fresh",
    "remedies/rinse-before-fixing",
    "remedies/weaken-the-fixer",
    "remedies/change-the-fixer",
    "remedies/separate-the-trays",
    "causes/fixing/iron-left-before-fixer",
    "cautions/cyanide",
    "cautions/cyanide-and-acid",
    "cautions/iron-developer",
}
# What the bench says of both, word for word.
BOTH_ON_THE_BENCH = {
    "How little cyanide, met by acid, makes the air of a darkroom deadly",
    "Keep acid and developer away from cyanide: own tray, own tongs, own drain, own waste jar, plate rinsed well between.",
    "Most rapid fixers are acid: keep them from any tray, drain or jar that has seen cyanide.",
    "Acid comes near neither plate nor wash water; the first rinse goes to the cyanide waste.",
}
BACKWARDS = re.compile(
    r"\b(water|bath|developer|alcohol|spirit)\b[^.;:]{0,40}\b(in)?to (the |a little |strong |pure )*(nitric|acetic|acid)\b",
    re.IGNORECASE,
)
INTO = re.compile(
    r"\bacid\b[^.;:]{0,30}\bdrop by drop\b[^.;:]{0,20}\b(in)?to\b[^.;:]{0,20}\b(water|bath)\b"
    r"|\bdrop by drop\b[^.;:]{0,20}\b(in)?to water or bath\b",
    re.IGNORECASE,
)
POURS_NITRIC = re.compile(r"\b(add|pour|put|drop|stir|mix|thin|give|let fall)\b[^.;:]*\bnitric acid\b", re.IGNORECASE)


def both(text):
    return bool(CYANIDE.search(text) and ACIDS.search(text))


def dangers(read):
    """Every text that might be a recipe for something that kills, unless it is known to be none."""
    found = []
    for place, text in read:
        where = "/".join(place)
        if both(text) and not where.startswith(tuple(BOTH_BY_EYE)) and text not in BOTH_ON_THE_BENCH:
            found.append(("cyanide and acid", where, text))
        if place[-1] == WHOLE:
            continue
        topics = [(topic, pattern.search) for topic, pattern in TOPICS.items() if pattern.search(text)]
        for part in sentences(text):
            for topic, speaks_of in [*topics, ("cyanide and acid", both)]:
                if speaks_of(part) and part not in HARMLESS_SENTENCES[topic]:
                    found.append((topic, where, part))
            if BACKWARDS.search(part) and part not in HARMLESS_SENTENCES["acid the wrong way round"]:
                found.append(("acid the wrong way round", where, part))
        instructs = place[0] == "bench" or (
            place[0] in {"remedies", "checks", "solutions"} and place[-1] in {"say", "do"}
        )
        poured = "nitric acid other than drop by drop into water or bath"
        pours = [
            part for part in sentences(text) if POURS_NITRIC.search(part) and part not in HARMLESS_SENTENCES[poured]
        ]
        if instructs and pours and not INTO.search(text):
            found.append((poured, where, text))
    return found


def test_no_text_gives_a_recipe_that_kills(knowledge):
    assert dangers(texts(knowledge)) == []


def test_the_list_of_harmless_sentences_holds_nothing_else(knowledge):
    """A sentence that is no longer there is taken off the list, so that the list stays as short as it can be read."""
    there = {part for _, text in texts(knowledge) for part in sentences(text)}
    stale = {part for listed in HARMLESS_SENTENCES.values() for part in listed} - there
    assert not stale
    assert {text for place, text in texts(knowledge) if place[0] == "bench"} >= BOTH_ON_THE_BENCH


RECIPES = {
    "ammonia": [
        "Add a little ammonia to the silver bath.",
        "Add ammonia to the water. Then pour it into the bath.",
        "Neutralise the bath with Ammonium hydroxide.",
        "A drop of hartshorn clears it.",
        "Dry the silver fulminate.",
    ],
    "cyanide and acid": [
        "Add acetic acid to the cyanide.",
        "Put a little vinegar in. Then the cyanide clears faster.",
        "Pour the cyanide over the developer before rinsing.",
        "Freshen the Cyanide with a drop of nitric.",
    ],
    "boiling or a flame": [
        "Boil the bath down to half over a spirit lamp.",
        "Set the dish on the stove until the smell has gone.",
        "Evaporate the bath on a hotplate.",
        "Heat the bath gently.",
        "Simmer it for an hour.",
        "Stand the dish with the bath on a hot plate.",
        "Warm it over a candle.",
    ],
    "acid the wrong way round": [
        "Pour the distilled water into the nitric acid.",
        "Add the bath to strong nitric acid.",
        "Let water fall into acid.",
    ],
    "nitric acid other than drop by drop into water or bath": [
        "Pour nitric acid into the bath.",
        "Add a good splash of nitric acid and stir.",
        "Put nitric acid drop by drop on the plate.",
    ],
}


@pytest.mark.parametrize(
    ("topic", "recipe"), [(topic, recipe) for topic, listed in RECIPES.items() for recipe in listed]
)
def test_the_reading_bites_on_a_remedy(topic, recipe, knowledge):
    bad = dataclasses.replace(knowledge.remedies["air-the-bath"], say=recipe)
    assert topic in {found for found, _, _ in dangers(texts_of(bad, ("remedies", "air-the-bath")))}


@pytest.mark.parametrize(
    ("topic", "recipe"), [(topic, recipe) for topic, listed in RECIPES.items() for recipe in listed]
)
def test_the_reading_bites_on_a_solution_and_on_the_bench(topic, recipe, knowledge):
    good = knowledge.solutions["silver-bath"]
    bad = dataclasses.replace(good, step=(dataclasses.replace(good.step[0], do=recipe), *good.step[1:]))
    assert topic in {found for found, _, _ in dangers(texts_of(bad, ("solutions", "silver-bath")))}
    for line in (f"DO = ({recipe!r},)", f"def work(volume):\n    return f{recipe + ' {volume:g} mL.'!r}\n"):
        assert topic in {found for found, _, _ in dangers(texts_in(line, ("bench", "bath_mixing")))}, line


def test_all_the_bench_says_is_read(knowledge):
    """What sums say when they are worked is among the sentences read, but for what is filled in."""
    read = {text for place, text in texts(knowledge) if place[0] == "bench"}
    assert len(read) > 1000
    patterns = [re.compile(".*".join(map(re.escape, text.split("…"))), re.DOTALL) for text in read]
    sum_ = SUMS["acid-for-bath"]
    worked = sum_.reckon({"volume": 1000.0, "present_ph": 5.8, "percent": 65.0})
    for said in (sum_.title, sum_.formula, sum_.holds, sum_.accuracy, *worked.do, *worked.beware):
        assert any(pattern.fullmatch(said) for pattern in patterns), said
    assert not any("Raises:" in text for text in read)  # what only a programmer reads is no text


def test_the_reading_bites_on_a_check_a_step_and_a_word_about_a_cause(knowledge):
    recipe = "Add ammonia to the silver bath."
    name = "silver-bath/bath-too-acid"
    cause = knowledge.causes[name]
    for bad in (
        dataclasses.replace(cause, step=(dataclasses.replace(cause.step[0], then=recipe), *cause.step[1:])),
        dataclasses.replace(cause, symptom=(dataclasses.replace(cause.symptom[0], why=recipe), *cause.symptom[1:])),
        dataclasses.replace(cause, likelier=(dataclasses.replace(cause.likelier[0], why=recipe),)),
        dataclasses.replace(cause, look_alike=(dataclasses.replace(cause.look_alike[0], apart=recipe),)),
        dataclasses.replace(cause, dissent=(dataclasses.replace(cause.dissent[0], says=recipe),)),
        dataclasses.replace(cause, brief=recipe),
        dataclasses.replace(knowledge.checks["litmus-on-bath"], do=recipe),
        dataclasses.replace(knowledge.checks["litmus-on-bath"], tells_apart=recipe),
        dataclasses.replace(knowledge.conditions["fixer"], ask=recipe),
    ):
        assert "ammonia" in {found for found, _, _ in dangers(texts_of(bad, ("causes", name)))}


def acid_unwarned(read):
    """Sentences of the remedies read by eye that name an acid without warning of it."""
    named = re.compile(r"acid|vinegar|nitric|acetic|sulphuric", re.IGNORECASE)
    warns = re.compile(r"\b(never|no|not|frees|gas|apart)\b", re.IGNORECASE)
    return [
        part
        for place, text in read
        if place[0] == "remedies" and "/".join(place[:2]) in BOTH_BY_EYE and place[-1] != WHOLE
        for part in sentences(text)
        if named.search(part) and not warns.search(part)
    ]


def test_what_was_read_by_eye_names_acid_only_to_warn(knowledge):
    assert acid_unwarned(texts(knowledge)) == []
    bad = dataclasses.replace(
        knowledge.remedies["weaken-the-fixer"], say="Take the cyanide. Add a drop of acetic acid."
    )
    assert acid_unwarned(texts_of(bad, ("remedies", "weaken-the-fixer")))


def test_what_was_read_by_eye_is_still_there(knowledge):
    """Each entry on the list does speak of both, and no more entries are let by than those."""
    speaking = {"/".join(place) for place, text in texts(knowledge) if both(text)}
    for entry in BOTH_BY_EYE:
        assert any(where.startswith(entry) for where in speaking), entry


def test_the_reading_bites_on_a_folder_laid_over_the_knowledge(tmp_path):
    """A file that any checker of form lets through."""
    folder = tmp_path / "remedies" / "washing-and-drying"
    folder.mkdir(parents=True)
    (folder / "dry-evenly.toml").write_text(
        'title = "Dry it"\nsay = "Boil the bath dry over a flame. A little ammonia in it helps."\nminutes = 5\nplates = 0\n'
        'reversible = true\ntouches = "hand"\nfrom = ["judged"]\n',
        "utf-8",
    )
    found = {topic for topic, _, _ in dangers(texts(diagnose.read_knowledge(None, tmp_path)))}
    assert found == {"ammonia", "boiling or a flame"}


# What the design asks for in words ---------------------------------------------------------------


def test_the_cautions_say_what_they_must(knowledge):
    said = {name: f"{caution.title}. {caution.say}".casefold() for name, caution in knowledge.cautions.items()}
    for name, words in {
        "silver-nitrate": ("goggles", "gloves"),
        "nitric-acid": ("drop by drop", "water or bath", "never the reverse", "goggles"),
        "ether-and-alcohol": ("no flame", "no spark"),
        "cyanide": ("kill", "licensed", "local codes"),
        "cyanide-and-acid": ("hydrogen cyanide", "separate trays", "wash", "developer"),
        "ammonia-and-silver": ("never mix ammonia with a silver bath", "explode", "alcohol", "never sun"),
        "cadmium-salts": ("licensed", "cancer"),
        "silver-waste": ("local codes",),
        "varnish-heat": ("never over a flame",),
    }.items():
        for word in words:
            assert word in said[name], (name, word)
    deadly = ("silver-nitrate", "nitric-acid", "ether-and-alcohol", "cyanide", "cyanide-and-acid", "ammonia-and-silver")
    assert {knowledge.cautions[name].level for name in deadly} == {"danger"}


def test_the_bath_is_freed_of_spirit_in_moving_air_or_not_at_all(knowledge):
    """Every remedy for a bath full of spirit works without heat."""
    for link in knowledge.causes["silver-bath/bath-full-of-spirit"].remedy:
        remedy = knowledge.remedies[link.do]
        assert not re.search(r"\b(boil|heat|warm)\b", remedy.say, re.IGNORECASE) or re.search(
            r"never|no flame", remedy.say + remedy.stop, re.IGNORECASE
        )
    assert "where air moves and no flame or spark is near" in knowledge.remedies["air-the-bath"].say


def test_craft_is_the_same_for_all(knowledge):
    """The bad knowledge above never got among the good."""
    assert craft_of(knowledge).knowledge is knowledge
