"""durable-rules against the plain engine and against CLIPS, at its limits, interrupted, and fed with what it must never see."""

import gc
import os
import pickle
import random
import re
import subprocess
import sys
import textwrap
import threading
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.entries.compiled import knowledge_folder
from diagnose.entries.files import read_files
from diagnose.entries.limits import (
    MOST_CONDITIONS_A_RULE,
    MOST_CONDITIONS_IN_ALL,
    MOST_LINES_A_FILE,
    MOST_RULES,
    MOST_SYMPTOMS_A_CAUSE,
)
from diagnose.entries.proof_limits import rule_widths
from diagnose.entries.proofread import proofread
from diagnose.entries.read import draft_knowledge
from diagnose.errors import ChainError, LimitError
from diagnose.facts import understand
from diagnose.plate import Plate
from diagnose.reasoning.chaining import Rule
from diagnose.reasoning.craft import craft_of
from diagnose.reasoning.matching import PlainChainer
from diagnose.reasoning.weighing import fire

firing = pytest.importorskip("diagnose.reasoning.firing", reason="durable-rules cannot be loaded here; see README")
DurableChainer = firing.DurableChainer

CASES = Path(__file__).resolve().parents[1] / "cases"
FUZZED, MANY, PORTIONS = 600, 20_000, 3


def same(rules, atoms, durable=None):
    """Both engines agree in every fact and in the whole order of firing; returns the plain one's account."""
    plain = PlainChainer(rules).run(atoms)
    found = (durable or DurableChainer(rules)).run(atoms)
    assert [rule.name for rule in found.trace] == [rule.name for rule in plain.trace]
    assert found.trace == plain.trace
    assert found.facts == plain.facts
    return plain


def child(script, *, env=None, seconds=120):
    """Run a script in a process of its own and hand back what it printed."""
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", textwrap.dedent(script)],
        capture_output=True,
        text=True,
        check=False,
        timeout=seconds,
        env={**os.environ, "PYTHONUTF8": "1", **(env or {})},
    )
    assert done.returncode == 0, f"ended with {done.returncode}\n{done.stdout}\n{done.stderr}"
    assert not done.stderr, done.stderr
    return done.stdout


# Plates -----------------------------------------------------------------------------------------------------------------


ONE_IN = 5


def case_plates():
    """Every case; one in so many by default, because all the rules on every plate take long. `test_sifting.py` fires the sifted
    rules on every case."""
    count = 0
    for path in sorted(CASES.rglob("*.toml")):
        for number, case in enumerate(tomllib.loads(path.read_text("utf-8"))["case"], start=1):
            told = {part: case[part] for part in ("symptoms", "conditions", "checks", "tried") if part in case}
            marks = [pytest.mark.slow] if count % ONE_IN else []
            yield pytest.param(told, id=f"{path.parent.name}/{path.stem}-{number}", marks=marks)
            count += 1


def fuzzed_plate(chance, knowledge):
    """Any symptoms, conditions and checks together, however unlikely."""
    symptoms, conditions = {}, {}
    for name in chance.sample(sorted(knowledge.symptoms), chance.randint(0, 12)):
        offered = knowledge.symptoms[name].attributes
        looks = {key: chance.choice(values) for key, values in offered.items() if chance.random() < 0.4}
        symptoms[name] = {"answer": chance.choice(("present", "present", "absent", "unsure", "cant-tell")), **looks}
    for name in chance.sample(sorted(knowledge.conditions), chance.randint(0, 30)):
        entry = knowledge.conditions[name]
        if entry.kind == "quantity":
            low, high = entry.range
            conditions[name] = f"{low + (high - low) * chance.random() ** 2:.3f} {entry.unit}"
        else:
            conditions[name] = chance.choice(sorted(entry.answers))
    checks = {
        name: chance.choice([outcome.id for outcome in knowledge.checks[name].outcome])
        for name in chance.sample(sorted(knowledge.checks), chance.randint(0, 6))
        if knowledge.checks[name].outcome
    }
    return Plate.read({"symptoms": symptoms, "conditions": conditions, "checks": checks})


class Listener:
    """An engine that only takes down what it is given."""

    engine = "none"

    def run(self, atoms):
        self.heard = list(atoms)
        return PlainChainer([]).run(atoms)


def atoms_of(plate, craft):
    listener = Listener()
    fire(understand(plate, craft.knowledge), craft, listener)
    return listener.heard


@pytest.fixture(scope="module")
def craft(knowledge):
    return craft_of(knowledge)


# The two engines agree --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("told", list(case_plates()))
def test_every_case_fires_the_same(told, craft):
    assert same(craft.book.rules, atoms_of(Plate.read(told), craft), craft.engine).trace


@pytest.mark.slow
def test_many_fuzzed_plates_fire_the_same(craft):
    fire_the_same(MANY, random.Random("many"), craft)


@pytest.mark.parametrize("portion", range(PORTIONS))
def test_fuzzed_plates_fire_the_same(portion, craft):
    fire_the_same(FUZZED // PORTIONS, random.Random(portion), craft)


def fire_the_same(number, chance, craft):
    fired = 0
    for _ in range(number):
        atoms = atoms_of(fuzzed_plate(chance, craft.knowledge), craft)
        chance.shuffle(atoms)
        plain, found = craft.bulk.run(atoms), craft.engine.run(atoms)
        assert found.trace == plain.trace
        assert found.facts == plain.facts
        fired += len(plain.trace)
    assert fired > 20 * number  # the plates do set rules off


ATOMS = [f"given:{n}" for n in range(16)] + [f"state:{n}" for n in range(8)]
WHEN = st.lists(st.sampled_from(ATOMS), min_size=1, max_size=MOST_CONDITIONS_A_RULE)
NARROW = st.lists(st.sampled_from(ATOMS), min_size=1, max_size=3)


@settings(deadline=None, max_examples=200, derandomize=True, database=None)
@given(
    st.lists(st.tuples(NARROW | WHEN, st.sampled_from(["", *ATOMS])), max_size=60),
    st.lists(st.sampled_from([*ATOMS, "asked of by no rule"])),
    st.randoms(use_true_random=False),
)
def test_any_rules_fire_the_same(made, atoms, chance):
    rules = [Rule(f"rule {n}", tuple(when), then) for n, (when, then) in enumerate(made)]
    durable = DurableChainer(rules)
    first = same(rules, atoms, durable)
    chance.shuffle(atoms)
    again = same(rules, [*atoms, *atoms], durable)
    assert again.facts == first.facts
    assert again.trace == first.trace


def test_states_chain_to_any_depth():
    rules = [Rule(f"step {n}", (f"state:{n}",), f"state:{n + 1}") for n in reversed(range(150))]
    assert len(same(rules, ["state:0"]).trace) == 150


def test_the_lowest_rule_ready_fires_first_and_the_search_begins_again():
    rules = [
        Rule("late", ("b",), "c"),
        Rule("first", ("a",), "b"),
        Rule("second", ("a",), "d"),
        Rule("last", ("c", "d")),
    ]
    assert [rule.name for rule in same(rules, ["a"]).trace] == ["first", "late", "second", "last"]


def test_one_atom_shared_by_nine_hundred_rules():
    rules = [Rule(f"rule {n}", ("shared", f"own:{n % 7}"), f"state:{n}") for n in range(900)]
    durable = DurableChainer(rules)
    for own in range(7):
        assert len(same(rules, [f"own:{own}", "shared"], durable).trace) in {128, 129}
    assert len(same(rules, ["shared", *(f"own:{n}" for n in range(7))], durable).trace) == 900
    assert not same(rules, [f"own:{n}" for n in range(7)], durable).trace


def test_a_shared_state_that_is_derived_late_reaches_every_rule():
    rules = [Rule(f"rule {n}", ("state:shared",), f"state:{n}") for n in range(450)] + [
        Rule("way", ("a",), "state:shared")
    ]
    assert len(same(rules, ["a"]).trace) == 451


def test_nothing_matched_is_no_trouble():
    durable = DurableChainer([Rule("rule", ("a", "b"), "c")])
    for atoms in ([], ["a"], ["b"], ["elsewhere"], [], ["a", "b"], []):
        same([Rule("rule", ("a", "b"), "c")], atoms, durable)
    assert DurableChainer([]).run(["a"]).facts == {"a"}


@pytest.mark.parametrize("engine", [DurableChainer, PlainChainer])
def test_rules_no_engine_could_fire_alike_are_refused(engine):
    with pytest.raises(ValueError, match="no atoms"):
        engine([Rule("empty", ())])
    with pytest.raises(ValueError, match="two rules"):
        engine([Rule("one", ("a",)), Rule("one", ("b",))])


# An independent engine --------------------------------------------------------------------------------------------------


class Clips:
    """The same ground rules in CLIPS: every atom a number, every firing a mark."""

    def __init__(self, rules):
        clips = pytest.importorskip("clips", reason="clipspy is not installed; `pip install .[test]`")
        self.rules, self.env, self.numbers = rules, clips.Environment(), {}
        self.env.build("(deftemplate atom (slot n (type INTEGER)))")
        self.env.build("(deftemplate fired (slot n (type INTEGER)))")
        for place, rule in enumerate(rules):
            tests = " ".join(f"(atom (n {self.number(atom)}))" for atom in rule.when)
            then = f"(assert (atom (n {self.number(rule.then)})))" if rule.then else ""
            self.env.build(f"(defrule r{place} {tests} => (assert (fired (n {place}))) {then})")
        self.names = {number: atom for atom, number in self.numbers.items()}

    def number(self, atom):
        return self.numbers.setdefault(atom, len(self.numbers))

    def run(self, atoms):
        self.env.reset()
        template = self.env.find_template("atom")
        for atom in atoms:
            if atom in self.numbers:
                template.assert_fact(n=self.numbers[atom])
        self.env.run()
        facts, fired = {atom for atom in atoms if atom not in self.numbers}, set()
        for fact in self.env.facts():
            if fact.template.name == "atom":
                facts.add(self.names[fact["n"]])
            elif fact.template.name == "fired":
                fired.add(self.rules[fact["n"]].name)
        return facts, fired


def test_an_independent_engine_derives_and_fires_the_same(craft):
    clips = Clips(craft.book.rules)
    chance = random.Random(99)
    plates = [Plate.read(case.values[0]) for case in case_plates()]
    plates += [fuzzed_plate(chance, craft.knowledge) for _ in range(300)]
    for plate in plates:
        atoms = atoms_of(plate, craft)
        facts, fired = clips.run(atoms)
        found = craft.engine.run(atoms)
        assert fired == {rule.name for rule in found.trace}
        assert facts == found.facts


# Limits of the engine ---------------------------------------------------------------------------------------------------


def test_a_rule_too_wide_is_refused_in_words():
    wide = tuple(f"atom {n}" for n in range(MOST_CONDITIONS_A_RULE + 1))
    with pytest.raises(LimitError) as refused:
        DurableChainer([Rule("causes/film/torn symptom 1", wide)])
    assert "'causes/film/torn symptom 1' has 13 tests" in str(refused.value)
    assert str(MOST_CONDITIONS_A_RULE) in str(refused.value)
    same([Rule("as wide as can be, with one test twice", (*wide[1:], wide[1]), "end")], wide)


def test_too_many_rules_are_refused_in_words():
    with pytest.raises(LimitError, match=f"{MOST_RULES + 1} rules.*safely hold {MOST_RULES}"):
        DurableChainer([Rule(f"rule {n}", ("a",)) for n in range(MOST_RULES + 1)])


def test_too_many_different_tests_are_refused_in_words():
    """Past 25,550 the core would loop for ever while it compiles."""
    count = firing.MOST_TOKENS // MOST_CONDITIONS_A_RULE + 1
    rules = [Rule(f"rule {n}", tuple(f"{n}.{m}" for m in range(MOST_CONDITIONS_A_RULE))) for n in range(count)]
    with pytest.raises(LimitError, match=f"{count * MOST_CONDITIONS_A_RULE} different tests"):
        DurableChainer(rules)


AT_THE_LIMIT = {
    "as many rules as allowed, each with its own test": f"""
        rules = [Rule(f"rule {{n}}", (f"given:{{n}}",), f"state:{{n}}") for n in range({MOST_RULES})]
    """,
    "as many rules as allowed, all with one test": f"""
        rules = [Rule(f"rule {{n}}", ("given:0",), f"state:{{n}}") for n in range({MOST_RULES})]
    """,
    "as many tests as allowed, every rule as wide as can be": f"""
        rules = [
            Rule(f"rule {{n}}", tuple(f"given:{{n}}.{{m}}" for m in range({MOST_CONDITIONS_A_RULE})), f"state:{{n}}")
            for n in range({MOST_CONDITIONS_IN_ALL // MOST_CONDITIONS_A_RULE})
        ]
    """,
    "wide rules that share all their tests": f"""
        rules = [
            Rule(f"rule {{n}}", tuple(f"given:{{m}}" for m in range({MOST_CONDITIONS_A_RULE})), f"state:{{n}}")
            for n in range({MOST_CONDITIONS_IN_ALL // MOST_CONDITIONS_A_RULE})
        ]
    """,
}
BOTH_ENGINES = """
from diagnose.reasoning.chaining import Rule
from diagnose.reasoning.firing import DurableChainer
from diagnose.reasoning.matching import PlainChainer
"""
RUN_THEM = """
given = list(dict.fromkeys(atom for rule in rules for atom in rule.when))
durable, plain = DurableChainer(rules), PlainChainer(rules)
for atoms in (given[:1], given[::2], given, []):
    found, wanted = durable.run(atoms), plain.run(atoms)
    assert found.trace == wanted.trace and found.facts == wanted.facts
print(len(rules), len(durable.run(given).trace))
"""


@pytest.mark.parametrize("made", AT_THE_LIMIT)
def test_rules_exactly_at_the_limit_fire(made):
    count, fired = child(BOTH_ENGINES + textwrap.dedent(AT_THE_LIMIT[made]) + RUN_THEM).split()
    assert count == fired


@pytest.mark.slow
def test_as_many_different_tests_as_the_engine_allows():
    made = f"""
rules = [Rule(f"rule {{n}}", tuple(f"{{n}}.{{m}}" for m in range(12)), f"s{{n}}") for n in range({firing.MOST_TOKENS - 1} // 12)]
"""
    count, fired = child(BOTH_ENGINES + made + RUN_THEM).split()
    assert count == fired


# Limits of the knowledge ------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def files():
    return read_files([knowledge_folder()])


@pytest.fixture
def draft(files):
    return draft_knowledge(files)


def problems_of(draft):
    return {problem for problem in proofread(draft) if problem.level == "error"}


def put(draft, kind, name, **changes):
    draft.entries[kind][name] = replace(draft.entries[kind][name], **changes)


def warm(count):
    return tuple(f"room_temperature > {20 + n / 10} °C" for n in range(count))


def widened(draft, place, count):
    """Some rule of one kind, made `count` tests wide. A link's own symptom or outcome is one of its tests."""
    causes, remedies = draft.entries["causes"], draft.entries["remedies"]
    if place in {"symptom", "check"}:
        name = next(name for name in causes if getattr(causes[name], place))
        link, *rest = getattr(causes[name], place)
        put(draft, "causes", name, **{place: (replace(link, when=warm(count - 1)), *rest)})
    elif place in {"likelier", "unlikelier", "ruled_out"}:
        name = next(name for name in causes if causes[name].likelier)
        shift = causes[name].likelier[0]
        wide = replace(shift, when=warm(count - 1), unless=("room_humidity known",))
        put(draft, "causes", name, **{place: (wide,)})
    elif place == "cause's remedy":
        name = next(iter(causes))
        link, *rest = causes[name].remedy
        put(draft, "causes", name, remedy=(replace(link, when=warm(count)), *rest))
    elif place == "state":
        name = next(iter(draft.entries["states"]))
        way = replace(draft.entries["states"][name].way[0], when=warm(count), unless=())
        put(draft, "states", name, way=(way,))
    elif place == "remedy's needs":
        name = next(name for name in remedies if remedies[name].needs)
        put(draft, "remedies", name, needs=(warm(count),))
    elif place == "caution":
        name = next(name for name in draft.entries["cautions"] if draft.entries["cautions"][name].way)
        way = replace(draft.entries["cautions"][name].way[0], when=warm(count), unless=())
        put(draft, "cautions", name, way=(way,))


PLACES = [
    "symptom",
    "check",
    "likelier",
    "unlikelier",
    "ruled_out",
    "cause's remedy",
    "state",
    "remedy's needs",
    "caution",
]


@pytest.mark.parametrize("place", PLACES)
def test_knowledge_with_too_wide_a_rule_is_refused(draft, place):
    widened(draft, place, MOST_CONDITIONS_A_RULE)
    assert not [problem for problem in problems_of(draft) if "the rule engine" in problem.words]
    widened(draft, place, MOST_CONDITIONS_A_RULE + 1)
    [problem] = [problem for problem in problems_of(draft) if "the rule engine" in problem.words]
    assert problem.words == "13 tests in one place; the rule engine can safely hold 12"
    assert problem.fix
    assert problem.file.endswith(".toml")
    assert problem.line >= 1


def test_knowledge_with_too_many_tests_in_all_is_refused(draft):
    have = sum(width for *_, width in rule_widths(draft))
    name = next(iter(draft.entries["states"]))
    way = replace(draft.entries["states"][name].way[0], when=warm(10), unless=())
    odd = replace(way, when=warm((MOST_CONDITIONS_IN_ALL - have) % 10 or 10))
    old = draft.entries["states"][name].way
    rest = (MOST_CONDITIONS_IN_ALL - have - len(odd.when)) // 10
    put(draft, "states", name, way=(*old, odd, *[way] * rest))
    assert sum(width for *_, width in rule_widths(draft)) == MOST_CONDITIONS_IN_ALL
    assert not [problem for problem in problems_of(draft) if "tests in all" in problem.words]
    one_more = replace(way, when=warm(1))
    put(draft, "states", name, way=(*old, odd, *[way] * rest, one_more))
    [problem] = [problem for problem in problems_of(draft) if "tests in all" in problem.words]
    assert problem.words.startswith(f"{MOST_CONDITIONS_IN_ALL + 1} tests in all")


def test_knowledge_with_too_many_rules_is_refused(draft):
    have = sum(1 for _ in rule_widths(draft))
    name = next(iter(draft.entries["states"]))
    old = draft.entries["states"][name].way
    put(draft, "states", name, way=(*old, *[old[0]] * (MOST_RULES - have)))
    assert not [problem for problem in problems_of(draft) if "rules in all" in problem.words]
    put(draft, "states", name, way=(*old, *[old[0]] * (MOST_RULES - have + 1)))
    [problem] = [problem for problem in problems_of(draft) if "rules in all" in problem.words]
    assert problem.words == f"{MOST_RULES + 1} rules in all; the rule engine can safely hold {MOST_RULES}"


def test_a_cause_with_too_many_symptoms_is_refused(draft):
    name = next(iter(draft.entries["causes"]))
    link = draft.entries["causes"][name].symptom[0]
    put(draft, "causes", name, symptom=(link,) * MOST_SYMPTOMS_A_CAUSE)
    assert not [problem for problem in problems_of(draft) if "symptoms in one cause" in problem.words]
    put(draft, "causes", name, symptom=(link,) * (MOST_SYMPTOMS_A_CAUSE + 1))
    [problem] = [problem for problem in problems_of(draft) if "symptoms in one cause" in problem.words]
    assert problem.words == "17 symptoms in one cause"


@pytest.mark.parametrize("kind", MOST_LINES_A_FILE)
def test_a_file_too_long_to_read_is_refused(files, kind):
    name = next(name for name in files if name.startswith(f"{kind}/"))
    last = max(draft_knowledge(files).lines[name].values())
    blank = b"\n" * (MOST_LINES_A_FILE[kind] - last)
    assert not [p for p in problems_of(draft_knowledge(files | {name: blank + files[name]})) if "lines" in p.words]
    [problem] = [
        p for p in problems_of(draft_knowledge(files | {name: b"\n" + blank + files[name]})) if "lines" in p.words
    ]
    assert problem.file == name


def test_the_knowledge_that_comes_with_the_program_keeps_well_inside(craft):
    assert len(craft.book.rules) < MOST_RULES * 0.75
    assert sum(len(rule.when) for rule in craft.book.rules) < MOST_CONDITIONS_IN_ALL * 0.75


# Interrupts and errors --------------------------------------------------------------------------------------------------

RULES = [
    Rule("one", ("a", "b"), "state:1"),
    Rule("two", ("state:1", "c"), "state:2"),
    Rule("three", ("state:2",)),
    Rule("four", ("a",), "state:4"),
]
GIVEN = ["a", "b", "c", "d"]


class Meddled:
    """The core, but one call of it goes wrong: before anything is done, or just after."""

    def __init__(self, real, at, error, *, done):
        self.real, self.at, self.wrong, self.done, self.calls, self.error = real, at, error, done, 0, real.error

    def __getattr__(self, name):
        function = getattr(self.real, name)

        def call(*args):
            self.calls += 1
            if self.calls - 1 != self.at:
                return function(*args)
            if self.done:
                function(*args)
            raise self.wrong

        return call


@pytest.fixture(autouse=True)
def no_garbage_in_between():
    """Chainers left over from earlier tests give their rules back when garbage is looked for; that would count as a call."""
    gc.collect()
    gc.disable()
    yield
    gc.enable()


def calls_of_a_run(*, opened):
    counted, real = Meddled(firing.core, -1, None, done=False), firing.core
    chainer = DurableChainer(RULES)
    if not opened:
        chainer.close()
    try:
        firing.core = counted
        chainer.run(GIVEN)
    finally:
        firing.core = real
    return counted.calls


@pytest.mark.parametrize("opened", [True, False], ids=["ready", "closed before"])
@pytest.mark.parametrize("done", [True, False], ids=["after the call", "before the call"])
@pytest.mark.parametrize("error", [KeyboardInterrupt("stop"), RuntimeError("odd")], ids=["Ctrl-C", "error"])
def test_an_interrupt_anywhere_surfaces_and_the_next_plate_is_right(monkeypatch, error, done, opened):
    count = calls_of_a_run(opened=opened)
    assert count > 12
    for at in range(count):
        chainer = DurableChainer(RULES)
        if not opened:
            chainer.close()
        with monkeypatch.context() as patch:
            patch.setattr(firing, "core", Meddled(firing.core, at, error, done=done))
            with pytest.raises(type(error), match=str(error)):
                chainer.run(GIVEN)
        same(RULES, ["c"], chainer)
        same(RULES, GIVEN, chainer)


@pytest.mark.parametrize("done", [True, False], ids=["after the call", "before the call"])
def test_an_error_of_the_core_is_never_swallowed_with_a_wrong_answer(monkeypatch, done):
    """Only in the last call, which throws the session away, may an error of the core pass: the answer is complete by then."""
    count = calls_of_a_run(opened=True)
    wanted = PlainChainer(RULES).run(GIVEN)
    for at in range(count):
        chainer = DurableChainer(RULES)
        with monkeypatch.context() as patch:
            patch.setattr(firing, "core", Meddled(firing.core, at, firing.core.error("error code: 999"), done=done))
            if at == count - 1:
                assert chainer.run(GIVEN).trace == wanted.trace
            else:
                with pytest.raises(firing.core.error, match="999"):
                    chainer.run(GIVEN)
        same(RULES, GIVEN, chainer)


@pytest.mark.parametrize("result", [1, 2, 7])
def test_an_unexpected_result_is_an_error_not_an_answer(monkeypatch, result):
    """1 is "no rule wants it", 2 is "known already": neither can be, so neither is passed over."""

    class Odd(Meddled):
        def __getattr__(self, name):
            function = getattr(self.real, name)
            if name != "assert_fact":
                return function
            return lambda handle, message: (
                (result, function(handle, message)[1]) if self.odd(message) else function(handle, message)
            )

    for odd, words in (
        (lambda message: '"f0"' not in message, "took 'a'"),
        (lambda _: True, "would not open a session"),
    ):
        chainer = DurableChainer(RULES)
        with monkeypatch.context() as patch:
            core = Odd(firing.core, -1, None, done=False)
            core.odd = odd
            patch.setattr(firing, "core", core)
            with pytest.raises(ChainError, match=words):
                chainer.run(GIVEN)
        same(RULES, GIVEN, chainer)


def test_an_interrupt_in_the_very_first_plate_does_not_crash_the_core():
    """The core frees two pointers it never set if a session ends before anything fired in it; the heap is dirtied to show it."""
    script = """
        from diagnose.reasoning import firing
        from diagnose.reasoning.chaining import Rule

        real = firing.core

        class Stopped:
            error = real.error

            def __getattr__(self, name):
                return getattr(real, name)

            def assert_fact(self, handle, message):
                if '"f0"' not in message:
                    raise KeyboardInterrupt
                return real.assert_fact(handle, message)

        for _ in range(20):
            chainer = firing.DurableChainer([Rule("rule", ("a",), "b")])
            firing.core = Stopped()
            try:
                chainer.run(["a"])
            except KeyboardInterrupt:
                firing.core = real
            assert [rule.name for rule in chainer.run(["a"]).trace] == ["rule"]
        print("whole")
    """
    assert child(script, env={"MALLOC_PERTURB_": "165"}) == "whole\n"


@pytest.mark.skipif(not hasattr(__import__("signal"), "setitimer"), reason="this system has no interval timer")
def test_real_interrupts_at_any_moment_leave_the_engine_right():
    """Neither the core nor the lock: a lock left held shows as a child that never ends."""
    script = """
        import random, signal, time
        from diagnose.reasoning.chaining import Rule
        from diagnose.reasoning.firing import DurableChainer
        from diagnose.reasoning.matching import PlainChainer

        def stop(*_):
            raise KeyboardInterrupt

        chance = random.Random(5)
        rules = [Rule(f"rule {n}", (f"a{n % 9}", f"s{n % 4}") if n % 3 else (f"a{n % 9}",), f"s{n % 11}") for n in range(60)]
        durable, plain = DurableChainer(rules), PlainChainer(rules)
        signal.signal(signal.SIGALRM, stop)
        stopped, end = 0, time.monotonic() + 2.5
        while stopped < 600 and time.monotonic() < end:
            atoms = [f"a{n}" for n in range(9) if chance.random() < 0.7]
            try:
                signal.setitimer(signal.ITIMER_REAL, chance.uniform(1e-5, 6e-4))
                for _ in range(20):
                    durable.run(atoms)
                signal.setitimer(signal.ITIMER_REAL, 0)
            except KeyboardInterrupt:
                stopped += 1
            found, wanted = durable.run(atoms), plain.run(atoms)
            assert found.trace == wanted.trace and found.facts == wanted.facts
        print(stopped)
    """
    assert int(child(script, seconds=30)) > 50


# What must never reach the core -----------------------------------------------------------------------------------------

HOSTILE = [
    "quote \" and ' and \\",
    "\x00\x01\x1b[31mred\x1b[0m\x7f",
    "line\nbreak\r\ttab",
    '","sid":"2","t":99}',
    "$and",
    "sid-0",
    "r0",
    "",
    "ünïcode \U0001f4f7 \u202e\u200b",
    "\ud800",
    "1e-05",
    "NaN",
    "x" * 1_000_000,
]
ONLY_NUMBERS = re.compile(r'\{"id":"f\d+","sid":"1","g":\d+,"t":\d+\}')
ONLY_RULES = re.compile(
    r'\{("r\d+":\{"all":\[(\{"m\d+":\{"\$and":\[\{"g":\d+\},\{"t":\d+\}\]\}\},?)+\]\},?)+\}', re.ASCII
)


def test_hostile_names_give_right_results_and_never_reach_the_core(monkeypatch):
    sent = []

    class Overheard:
        real, error = firing.core, firing.core.error

        def __getattr__(self, name):
            def call(*args):
                sent.extend((name, arg) for arg in args if isinstance(arg, str | bytes))
                return getattr(self.real, name)(*args)

            return call

    rules = [Rule(f"{name} alone", (name,), f"{name}!") for name in HOSTILE]
    rules += [Rule(f"{name} further", (f"{name}!", HOSTILE[0]), "end") for name in HOSTILE]
    monkeypatch.setattr(firing, "core", Overheard())
    durable = DurableChainer(rules)
    for name in HOSTILE:
        same(rules, [name, "heard by no rule\x00"], durable)
    assert len(same(rules, HOSTILE, durable).trace) == 2 * len(HOSTILE)
    durable.close()
    assert {name for name, _ in sent} == {"create_ruleset", "assert_fact", "delete_state"}
    for name, text in sent:
        if name == "assert_fact":
            assert ONLY_NUMBERS.fullmatch(text)
        elif name == "delete_state":
            assert text == firing.SESSION
        else:
            assert re.fullmatch(r"plates\d+", text) or ONLY_RULES.fullmatch(text)


@settings(deadline=None, max_examples=60, derandomize=True, database=None)
@given(st.lists(st.text(), min_size=1, max_size=6, unique=True))
def test_any_text_is_a_good_name(names):
    same([Rule(f"rule {n}", (name,), f"{name}+") for n, name in enumerate(names)], names)


ONE_CASE = """
import json, locale, sys
from diagnose import Plate, read_knowledge
from diagnose.facts import understand
from diagnose.reasoning.craft import craft_of
from diagnose.reasoning.weighing import fire, gather, weigh
if len(sys.argv) > 1:
    locale.setlocale(locale.LC_ALL, sys.argv[1])
    assert locale.localeconv()["decimal_point"] == ","
told = {
    "symptoms": {"thin-blue-film": True, "greasy-film": "unsure", "comets": False},
    "conditions": {"bath_strength": "42.5 g/L", "sensitising_time": "2,5 min", "room_temperature": 30.5},
}
craft = craft_of(read_knowledge())
facts = understand(Plate.read({**told, "conditions": {**told["conditions"], "room_temperature": "30.5 °C"}}), craft.knowledge)
firing = fire(facts, craft)
posterior = weigh(gather(facts, firing, craft), craft)
print(json.dumps([firing.engine, [rule.name for rule in firing.trace], posterior.causes]))
"""


def test_a_locale_with_decimal_commas_changes_nothing(tmp_path):
    name, env = comma_locale(tmp_path)
    usual = child(ONE_CASE)
    assert '["durable-rules"' in usual
    assert child(f"import sys; sys.argv.append({name!r})\n" + ONE_CASE, env=env) == usual


def comma_locale(folder):
    """A locale that writes 0,5: one the system has, or one made for the occasion."""
    probe = (
        "import locale, sys; locale.setlocale(locale.LC_ALL, sys.argv[1]); print(locale.localeconv()['decimal_point'])"
    )
    for name in ("de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8"):
        done = subprocess.run([sys.executable, "-c", probe, name], capture_output=True, text=True, check=False)
        if done.stdout.strip() == ",":
            return name, {"LC_ALL": name}
    try:
        subprocess.run(
            ["localedef", "-i", "de_DE", "-f", "UTF-8", str(folder / "de_DE.UTF-8")], capture_output=True, check=False
        )
    except OSError:
        pytest.skip("this system has no locale with decimal commas and no localedef to make one")
    env = {"LOCPATH": str(folder), "LC_ALL": "de_DE.UTF-8"}
    done = subprocess.run(
        [sys.executable, "-c", probe, "de_DE.UTF-8"],
        capture_output=True,
        text=True,
        env={**os.environ, **env},
        check=False,
    )
    if done.stdout.strip() != ",":
        pytest.skip("this system has no locale with decimal commas, and localedef could not make one")
    return "de_DE.UTF-8", env


# Travelling, sharing, lasting -------------------------------------------------------------------------------------------


def test_a_pickled_chainer_fires_the_same():
    chainer = DurableChainer(RULES)
    chainer.run(GIVEN)
    copy = pickle.loads(pickle.dumps(chainer))
    same(RULES, GIVEN, copy)
    same(RULES, GIVEN, chainer)


def test_a_closed_chainer_opens_again():
    chainer = DurableChainer(RULES)
    for _ in range(3):
        chainer.close()
        chainer.close()
        same(RULES, GIVEN, chainer)


def test_several_chainers_at_once_do_not_mix():
    sets = [[Rule(f"{n} rule {m}", (f"a{m}",), f"{n}:{m}") for m in range(n + 1)] for n in range(6)]
    chainers = [DurableChainer(rules) for rules in sets]
    for _ in range(20):
        for rules, chainer in zip(sets, chainers, strict=True):
            same(rules, [f"a{m}" for m in range(6)], chainer)


def test_six_threads_may_share_one_chainer(craft):
    chance = random.Random(17)
    plates = [atoms_of(fuzzed_plate(chance, craft.knowledge), craft) for _ in range(40)]
    wanted = [craft.bulk.run(atoms) for atoms in plates]
    wrong = []

    def work(start):
        try:
            for step in range(len(plates)):
                at = (start + step) % len(plates)
                found = craft.engine.run(plates[at])
                if found.trace != wanted[at].trace or found.facts != wanted[at].facts:
                    wrong.append(at)
        except BaseException as error:  # noqa: BLE001 - a thread's error would be lost otherwise
            wrong.append(error)

    threads = [threading.Thread(target=work, args=(start * 7,)) for start in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert not wrong


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot fork")
def test_a_forked_process_goes_on_with_the_chainer():
    script = """
        import os
        from diagnose.reasoning.chaining import Rule
        from diagnose.reasoning.firing import DurableChainer
        from diagnose.reasoning.matching import PlainChainer

        rules = [Rule(f"rule {n}", (f"a{n}",), f"a{n + 1}") for n in range(20)]
        durable, plain = DurableChainer(rules), PlainChainer(rules)
        durable.run(["a3"])
        children = []
        for number in range(3):
            pid = os.fork()
            if not pid:
                good = all(durable.run([f"a{n}"]).trace == plain.run([f"a{n}"]).trace for n in range(20))
                durable.close()
                os._exit(0 if good else 1)
            children.append(pid)
        assert all(os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1]) == 0 for pid in children)
        assert durable.run(["a0"]).trace == plain.run(["a0"]).trace
        print("whole")
    """
    assert child(script) == "whole\n"


LASTING = """
import random
from pathlib import Path

def resident():
    for line in Path("/proc/self/status").read_text().splitlines():
        if line.startswith("VmRSS"):
            return int(line.split()[1]) / 1024

{setup}
for number in range(1, 20_001):
    run()
    if number == 2_000:
        before = resident()
print(before, resident())
"""
SMALL_BOOK = """
from diagnose.reasoning.chaining import Rule
from diagnose.reasoning.firing import DurableChainer
chance = random.Random(1)
chainer = DurableChainer([Rule(f"rule {n}", (f"a{n % 9}", f"s{n % 4}")[: 1 + n % 2], f"s{n % 11}") for n in range(25)])
def run():
    chainer.run([f"a{n}" for n in range(9) if chance.random() < 0.6])
"""
WHOLE_BOOK = """
from diagnose import read_knowledge
from diagnose.reasoning.craft import craft_of
craft = craft_of(read_knowledge())
chance = random.Random(1)
atoms = sorted({atom for rule in craft.book.rules for atom in rule.when})
def run():
    craft.engine.run(chance.sample(atoms, 30))
"""
has_proc = pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="resident memory is read from /proc")


@has_proc
def test_twenty_thousand_plates_leave_memory_flat():
    before, after = map(float, child(LASTING.replace("{setup}", SMALL_BOOK)).split())
    assert after - before < 3


@has_proc
@pytest.mark.slow
def test_twenty_thousand_plates_of_the_whole_book_leave_memory_flat():
    before, after = map(float, child(LASTING.replace("{setup}", WHOLE_BOOK), seconds=600).split())
    print(f"\nresident after 2,000 plates {before:.1f} MB, after 20,000 {after:.1f} MB")
    assert after - before < 3
