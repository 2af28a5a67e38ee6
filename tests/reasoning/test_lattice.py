"""The exact sum against brute force, rational arithmetic and an independent library; and the theorems it must obey."""

import itertools
import math
import random
import tomllib
import warnings
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from diagnose.facts import understand
from diagnose.plate import Plate
from diagnose.reasoning import weighing
from diagnose.reasoning.craft import craft_of
from diagnose.reasoning.lattice import Marginals, Variable, marginals, widest

CASES = Path(__file__).resolve().parents[1] / "cases"
UNSURE = 0.8
WIDEST_ALLOWED = 12
SMALL = 1e-12


# Small nets -------------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Heard:
    """A finding: "present", "unsure", "absent", or "silent" with the chance that it would have been told."""

    answer: str
    leak: float
    links: dict[int, float]
    told: float = 1.0

    @property
    def positive(self) -> bool:
        return self.answer in {"present", "unsure"}


@dataclass(frozen=True)
class Net:
    """Causes in exclusive groups, each with its odds, and what was heard."""

    groups: tuple[tuple[int, ...], ...]
    odds: tuple[float, ...]
    heard: tuple[Heard, ...]


def posterior(net: Net) -> tuple[list[float], list[float], Marginals]:
    """Causes, leaks of the positive findings, and everything, from the code under test."""
    weights = list(net.odds)
    for item in net.heard:
        if not item.positive:
            for cause, chance in item.links.items():
                weights[cause] *= 1 - item.told * chance
    positive = [item for item in net.heard if item.positive]
    variables = [
        Variable(
            1.0,
            tuple(
                (weights[cause], {n: item.links[cause] for n, item in enumerate(positive) if cause in item.links})
                for cause in group
            ),
        )
        for group in net.groups
    ]
    variables += [Variable(1 - item.leak, ((item.leak, {n: 1.0}),)) for n, item in enumerate(positive)]
    result = marginals(variables, [(1.0, 0.0) if i.answer == "present" else (UNSURE, 1 - UNSURE) for i in positive])
    causes = [0.0] * len(net.odds)
    for group, chances in zip(net.groups, result.on, strict=False):
        for cause, chance in zip(group, chances, strict=True):
            causes[cause] = chance
    return causes, [on[0] for on in result.on[len(net.groups) :]], result


def brute(net: Net, one: Any = 1.0) -> tuple[list[Any], list[Any]]:
    """The same by adding up every set of causes; with `one` a Fraction, in rational arithmetic throughout.

    Worlds are built by doubling, one group at a time. What shows in each is added up, never taken from one: with a leak of a
    millionth, one less the chance of missing would itself be wrong in the tenth figure.
    """
    add = math.fsum if isinstance(one, float) else sum
    number = type(one)
    worlds, members = [one], [0]
    leaks_in = [number(item.leak) if item.answer != "silent" else 0 * one for item in net.heard]
    shown, missing = [[leak] for leak in leaks_in], [[1 - leak] for leak in leaks_in]
    for group in net.groups:
        old_worlds, old_members = list(worlds), list(members)
        old_shown, old_missing = [list(row) for row in shown], [list(row) for row in missing]
        for cause in group:
            odds = number(net.odds[cause])
            worlds += [value * odds for value in old_worlds]
            members += [mask | 1 << cause for mask in old_members]
            for place, item in enumerate(net.heard):
                link = number(item.told) * number(item.links.get(cause, 0))
                shown[place] += [s + m * link for s, m in zip(old_shown[place], old_missing[place], strict=True)]
                missing[place] += [value * (1 - link) for value in old_missing[place]]
    sure, not_sure = number(UNSURE), number(1 - UNSURE)
    factors = [
        shown[place]
        if item.answer == "present"
        else [sure * s + not_sure * m for s, m in zip(shown[place], missing[place], strict=True)]
        if item.answer == "unsure"
        else missing[place]
        for place, item in enumerate(net.heard)
    ]
    weights = [math.prod(values, start=one) for values in zip(worlds, *factors, strict=True)]
    total = add(weights)
    causes = [
        add(w for w, mask in zip(weights, members, strict=True) if mask >> cause & 1) / total
        for cause in range(len(net.odds))
    ]
    leaks = []
    for row, item in zip(factors, net.heard, strict=True):
        if item.positive:
            explained = number(item.leak) * (one if item.answer == "present" else sure)
            leaks.append(add(w / value * explained for w, value in zip(weights, row, strict=True)) / total)
    return causes, leaks


def random_net(chance: random.Random, most_causes: int = 12, most_positive: int = 8) -> Net:
    """A net of any shape: exclusive groups, hubs, loose causes, tiny leaks, links from hardly ever to nearly always."""
    count = chance.randint(1, most_causes)
    causes = list(range(count))
    chance.shuffle(causes)
    groups = []
    while causes:
        size = chance.choices((1, 2, 3), (8, 2, 1))[0]
        groups.append(tuple(causes[:size]))
        causes = causes[size:]
    odds = tuple(10 ** chance.uniform(-5, 0.7) for _ in range(count))
    density = chance.choice((0.15, 0.3, 0.6, 1.0))
    heard = []
    for answer, most in (("present", most_positive), ("unsure", 2), ("absent", 4), ("silent", 4)):
        for _ in range(chance.randint(0, most)):
            links = {cause: chance.uniform(0.003, 0.97) for cause in range(count) if chance.random() < density}
            told = chance.choice((0.5, 0.85, 0.95)) if answer == "silent" else 1.0
            heard.append(Heard(answer, 10 ** chance.uniform(-6, -1), links, told))
    chance.shuffle(heard)
    return Net(tuple(groups), odds, tuple(heard))


def worst_of(pairs: Iterator[tuple[Any, Any]] | zip) -> float:
    return max((abs(float(a - b)) for a, b in pairs), default=0.0)


def worst_error(count: int, seed: int) -> float:
    chance, worst = random.Random(seed), 0.0
    for _ in range(count):
        net = random_net(chance)
        causes, leaks, _ = posterior(net)
        true_causes, true_leaks = brute(net)
        worst = max(
            worst, worst_of(zip(causes, true_causes, strict=True)), worst_of(zip(leaks, true_leaks, strict=True))
        )
    return worst


# Exactness --------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(4))
def test_equals_brute_force_over_all_cause_sets(seed):
    assert worst_error(500, seed) <= SMALL


@pytest.mark.slow
def test_equals_brute_force_on_ten_thousand_nets():
    worst = worst_error(10_000, seed=1000)
    print(f"\nworst error of 10,000 small nets against brute force: {worst:.2g}")
    assert worst <= SMALL


def test_equals_rational_arithmetic():
    chance, worst = random.Random(7), 0.0
    for _ in range(40):
        net = random_net(chance, most_causes=6, most_positive=5)
        causes, leaks, _ = posterior(net)
        true_causes, true_leaks = brute(net, Fraction(1))
        exact = [Fraction(value) for value in (*causes, *leaks)]
        worst = max(worst, worst_of(zip(exact, (*true_causes, *true_leaks), strict=True)))
    print(f"worst error of 40 nets against rational arithmetic: {worst:.2g}")
    assert worst <= 1e-14


def test_tiny_leaks_and_many_findings_do_not_cancel():
    """Where inclusion and exclusion loses every figure: 14 findings, leaks of a millionth, one cause under all of them."""
    chance = random.Random(3)
    heard = tuple(
        Heard("present", 1e-6, {0: chance.uniform(0.2, 0.9)} | dict.fromkeys((1 + n % 5, 6 + n % 3), 0.5))
        for n in range(14)
    )
    net = Net(tuple((cause,) for cause in range(9)), (0.01,) * 9, heard)
    causes, leaks, _ = posterior(net)
    true_causes, true_leaks = brute(net, Fraction(1))
    exact = [Fraction(value) for value in (*causes, *leaks)]
    assert worst_of(zip(exact, (*true_causes, *true_leaks), strict=True)) <= SMALL


def test_equals_an_independent_library():
    """Its net form of the noisy-OR; the compound form folds the leak into the links and is a different model."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # its binding warns while it is imported
        gum = pytest.importorskip("pyagrum", reason="pyAgrum has no wheel here; `pip install .[test]`")
        chance, worst = random.Random(11), 0.0
        for number in range(30):
            net = random_net(chance, most_causes=10, most_positive=6)
            causes, leaks, _ = posterior(net)
            worst = max(worst, worst_of(zip(causes, _library_causes(gum, net), strict=True)))
            if number % 2:
                worst = max(worst, worst_of(zip(leaks, _library_causes(gum, net, leaks=True), strict=True)))
    print(f"worst error of 30 nets against pyAgrum: {worst:.2g}")
    assert worst <= 1e-10


def _library_causes(gum: Any, net: Net, *, leaks: bool = False) -> list[float]:
    """Marginals of the causes, or, with every leak drawn as a cause of its own, of the leaks."""
    bayes = gum.BayesNet()
    nodes: dict[int, int] = {}
    for number, group in enumerate(net.groups):
        total = 1 + sum(net.odds[cause] for cause in group)
        which = bayes.add(gum.LabelizedVariable(f"group{number}", "", 1 + len(group)))
        bayes.cpt(which).fillWith([1 / total, *(net.odds[cause] / total for cause in group)])
        for place, cause in enumerate(group, start=1):
            nodes[cause] = bayes.add(gum.LabelizedVariable(f"cause{cause}", "", 2))
            bayes.addArc(which, nodes[cause])
            table = [[0.0, 1.0] if way == place else [1.0, 0.0] for way in range(1 + len(group))]
            bayes.cpt(nodes[cause])[:] = table
    evidence: dict[str, Any] = {}
    leak_names = []
    for number, item in enumerate(net.heard):
        outside = 1e-300 if item.answer == "silent" or (leaks and item.positive) else item.leak
        finding = bayes.addNoisyORNet(gum.LabelizedVariable(f"finding{number}", "", 2), outside)
        for cause, link in item.links.items():
            bayes.addWeightedArc(nodes[cause], finding, link * item.told)
        if leaks and item.positive:
            leak = bayes.add(gum.LabelizedVariable(f"leak{number}", "", 2))
            bayes.cpt(leak).fillWith([1 - item.leak, item.leak])
            bayes.addWeightedArc(leak, finding, 1.0)
            leak_names.append(f"leak{number}")
        evidence[f"finding{number}"] = {"present": 1, "unsure": [1 - UNSURE, UNSURE]}.get(item.answer, 0)
    engine = gum.LazyPropagation(bayes)
    engine.setEvidence(evidence)
    engine.makeInference()
    names = leak_names if leaks else [f"cause{cause}" for cause in range(len(net.odds))]
    return [engine.posterior(name)[1] for name in names]


# Theorems ---------------------------------------------------------------------------------------------------------------

ODDS = st.floats(1e-5, 5)
LINK = st.floats(0.003, 0.97)
LEAK = st.floats(1e-6, 0.1)


@st.composite
def nets(draw: st.DrawFn) -> Net:
    count = draw(st.integers(1, 7))
    cuts = draw(st.lists(st.booleans(), min_size=count, max_size=count))
    groups: list[list[int]] = [[]]
    for cause, cut in enumerate(cuts):
        if cut and groups[-1]:
            groups.append([])
        groups[-1].append(cause)
    odds = draw(st.lists(ODDS, min_size=count, max_size=count))
    links = st.dictionaries(st.integers(0, count - 1), LINK)
    heard = draw(
        st.lists(
            st.builds(Heard, st.sampled_from(("present", "present", "unsure", "absent", "silent")), LEAK, links, LINK)
            .map(lambda item: item if item.answer == "silent" else replace(item, told=1.0)),
            max_size=6,
        )
    )  # fmt: skip
    return Net(tuple(map(tuple, groups)), tuple(odds), tuple(heard))


proved = settings(deadline=None, max_examples=150, derandomize=True, database=None)


@proved
@given(nets(), st.randoms(use_true_random=False))
def test_order_and_names_do_not_matter(net, chance):
    new_names = list(range(len(net.odds)))
    chance.shuffle(new_names)
    groups = [tuple(new_names[cause] for cause in group) for group in net.groups]
    chance.shuffle(groups)
    heard = [replace(i, links={new_names[cause]: link for cause, link in i.links.items()}) for i in net.heard]
    chance.shuffle(heard)
    odds = [0.0] * len(net.odds)
    for cause, name in enumerate(new_names):
        odds[name] = net.odds[cause]
    causes, _, whole = posterior(net)
    renamed, _, renamed_whole = posterior(Net(tuple(groups), tuple(odds), tuple(heard)))
    for cause, name in enumerate(new_names):
        assert renamed[name] == pytest.approx(causes[cause], abs=SMALL)
    assert renamed_whole.total == pytest.approx(whole.total, rel=1e-11)


@proved
@given(nets(), LEAK, st.sampled_from(("present", "unsure", "absent", "silent")))
def test_a_finding_linked_to_no_cause_changes_nothing(net, leak, answer):
    causes, _, _ = posterior(net)
    more, _, _ = posterior(replace(net, heard=(*net.heard, Heard(answer, leak, {}))))
    assert more == pytest.approx(causes, abs=SMALL)


@proved
@given(nets(), LEAK, st.dictionaries(st.integers(0, 6), LINK))
def test_law_of_total_probability(net, leak, links):
    """What is believed before a look is the mean of what would be believed after it."""
    links = {cause: link for cause, link in links.items() if cause < len(net.odds)}
    causes, _, whole = posterior(net)
    yes, _, whole_yes = posterior(replace(net, heard=(*net.heard, Heard("present", leak, links))))
    no, _, whole_no = posterior(replace(net, heard=(*net.heard, Heard("absent", leak, links))))
    chance_yes = whole_yes.total / whole.total
    chance_no = whole_no.total * (1 - leak) / whole.total  # the leak of an absent finding is left out of the sum
    assert chance_yes + chance_no == pytest.approx(1, abs=1e-11)
    for before, with_yes, with_no in zip(causes, yes, no, strict=True):
        assert before == pytest.approx(chance_yes * with_yes + chance_no * with_no, abs=1e-11)


@proved
@given(nets(), st.data(), st.floats(1.0, 50))
def test_raising_a_prior_raises_its_posterior(net, data, factor):
    cause = data.draw(st.integers(0, len(net.odds) - 1))
    odds = list(net.odds)
    odds[cause] *= factor
    before, after = posterior(net)[0][cause], posterior(replace(net, odds=tuple(odds)))[0][cause]
    assert after >= before - SMALL
    if factor > 1.5 and 1e-6 < before < 1 - 1e-6:
        assert after > before


@proved
@given(nets(), st.data(), LEAK, LINK)
def test_a_finding_linked_to_one_cause_only_moves_it_the_right_way(net, data, leak, link):
    cause = data.draw(st.integers(0, len(net.odds) - 1))
    before = posterior(net)[0][cause]
    assume(1e-9 < before < 1 - 1e-9)
    seen = posterior(replace(net, heard=(*net.heard, Heard("present", leak, {cause: link}))))[0][cause]
    unsure = posterior(replace(net, heard=(*net.heard, Heard("unsure", leak, {cause: link}))))[0][cause]
    unseen = posterior(replace(net, heard=(*net.heard, Heard("absent", leak, {cause: link}))))[0][cause]
    assert unseen < before < unsure < seen


@proved
@given(nets(), LEAK, st.dictionaries(st.integers(0, 6), LINK))
def test_silence_lies_between_cannot_tell_and_absent(net, leak, links):
    """Told for certain if it were there: the same as absent. Never told: the same as not asked."""
    links = {cause: link for cause, link in links.items() if cause < len(net.odds)}
    absent = posterior(replace(net, heard=(*net.heard, Heard("absent", leak, links))))[0]
    assert posterior(replace(net, heard=(*net.heard, Heard("silent", leak, links, 1.0))))[0] == absent
    assert posterior(replace(net, heard=(*net.heard, Heard("silent", leak, links, 0.0))))[0] == posterior(net)[0]


@proved
@given(nets())
def test_every_number_is_a_probability(net):
    causes, leaks, whole = posterior(net)
    assert whole.total > 0
    for value in (*causes, *leaks):
        assert -SMALL <= value <= 1 + SMALL
    for group in net.groups:
        assert sum(causes[cause] for cause in group) <= 1 + SMALL
    for chance in leaks:
        assert chance > 0


# Size -------------------------------------------------------------------------------------------------------------------


def test_nothing_heard_gives_the_priors():
    result = marginals([Variable(1.0, ((0.25, {}),)), Variable(1.0, ((1.0, {}), (2.0, {})))], [])
    assert result.on == ((0.2,), (0.25, 0.5))
    assert result.total == pytest.approx(1.25 * 4)


def test_width_counts_the_findings_that_are_open_together():
    chain = [Variable(1.0, ((0.1, {n: 0.5, n + 1: 0.5}),)) for n in range(9)]
    assert widest(chain, 10) == 2  # a chain of ten findings is never wider than one link
    hub = Variable(1.0, ((0.1, dict.fromkeys(range(10), 0.5)),))
    assert widest([hub], 10) == 10


def test_real_cases_keep_the_table_small(knowledge, monkeypatch):
    craft = craft_of(knowledge)
    widths: list[int] = []

    def measured(variables, finals):
        widths.append(widest(variables, len(finals)))
        return marginals(variables, finals)

    monkeypatch.setattr(weighing, "marginals", measured)
    for table in itertools.chain.from_iterable(
        tomllib.loads(path.read_text("utf-8"))["case"] for path in sorted(CASES.rglob("*.toml"))
    ):
        told = {part: table[part] for part in ("symptoms", "conditions", "checks", "tried") if part in table}
        facts = understand(Plate.read(told), knowledge)
        weighing.weigh(weighing.gather(facts, weighing.fire(facts, craft, craft.bulk), craft), craft)
    assert len(widths) > 50
    print(f"widest table of {len(widths)} cases: 2 to the power {max(widths)}")
    assert max(widths) <= WIDEST_ALLOWED
