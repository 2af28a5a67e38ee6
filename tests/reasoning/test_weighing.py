"""The whole weighing on the real knowledge, cut down to a dozen causes, against an account of its own that adds up every set."""

import contextlib
import itertools
import math
import random
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

import pytest

from diagnose.bench.sum import BenchError
from diagnose.bench.table import SUMS
from diagnose.entries.knowledge import Knowledge
from diagnose.errors import PlateError
from diagnose.facts import Facts, understand
from diagnose.plate import Plate
from diagnose.reasoning.craft import Craft, craft_of, make_craft
from diagnose.reasoning.lattice import MOST_EXACT
from diagnose.reasoning.weighing import Posterior, fire, gather, odds_before_findings, suppose, weigh
from diagnose.units import convert, read_amount

SMALL = 1e-12
CUTS, PLATES_A_CUT = 8, 25
MOST_CAUSES = 12


# The same sum, done another way -----------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Told:
    """A finding as the brute force sees it: the chances that a cause, or nothing listed, brings it about as it was told."""

    name: str
    answer: str
    leak: float
    chances: Mapping[str, float]


class Longhand:
    """Reads the entries themselves: no rules, no engine, no tables made beforehand; then adds up every set of causes."""

    def __init__(self, facts: Facts, knowledge: Knowledge) -> None:
        self.facts, self.knowledge, self.numbers = facts, knowledge, knowledge.strengths
        self.amounts = {**facts.amounts, **self.worked_out()}
        self.states: set[str] = set()
        while more := {name for name, state in knowledge.states.items() if self.any_way(state.way)} - self.states:
            self.states |= more
        self.told = [*self.symptoms_told(), *self.checks_told()]

    def worked_out(self) -> dict[str, float]:
        """Conditions that come from sums, filled in by hand from the words of the file."""
        found = {}
        for name, entry in self.knowledge.conditions.items():
            if not entry.reckoned_by or name in self.facts.amounts:
                continue
            sum_, given, short = SUMS[entry.reckoned_by], {}, False
            for wanted, use in entry.uses.items():
                condition, *rest = use.split(", else ")
                asked = next(asked for asked in sum_.asks if asked.name == wanted)
                if condition in self.facts.amounts:
                    unit = self.knowledge.conditions[condition].unit
                    given[wanted] = convert(self.facts.amounts[condition], unit, asked.unit)
                elif condition in self.facts.options:
                    given[wanted] = self.facts.options[condition]
                elif condition not in self.knowledge.conditions:
                    given[wanted] = read_amount(condition, asked.unit)
                elif not rest:
                    short = True
                elif rest != ["usual"]:
                    given[wanted] = read_amount(rest[0], asked.unit)
            told = any(
                use.split(", else ")[0] in {*self.facts.amounts, *self.facts.options} for use in entry.uses.values()
            )
            if not short and told:
                with contextlib.suppress(BenchError):
                    found[name] = next(a.value for a in sum_.reckon(given).amounts if a.name == entry.result)
        return found

    def any_way(self, ways) -> bool:
        return any(self.holds(way) for way in ways)

    def holds(self, part) -> bool:
        """Every test in `when`, and none in `unless`."""
        return all(map(self.passes, part.when)) and not any(map(self.passes, getattr(part, "unless", ())))

    def passes(self, words: str) -> bool:
        if match := re.fullmatch(r"(\w+) (>=|<=|>|<) (.+)", words):
            name, sign, limit = match.groups()
            if name not in self.amounts:
                return False
            have, edge = self.amounts[name], read_amount(limit, self.knowledge.conditions[name].unit)
            return {">": have > edge, ">=": have >= edge, "<": have < edge, "<=": have <= edge}[sign]
        match words.split():
            case [name, "is", option]:
                return self.facts.options.get(name) == option
            case [name, "known"]:
                return name in self.facts.options or name in self.amounts
            case [name, "seen"]:
                return name in self.facts.present
            case [name, "found", outcome]:
                return self.facts.outcomes.get(name) == outcome
            case [state]:
                return state in self.states
        raise AssertionError(words)

    def symptoms_told(self) -> list[Told]:
        facts, found = self.facts, []
        answers = [
            ("present", facts.present),
            ("unsure", facts.unsure),
            ("absent", {name: {} for name in facts.absent}),
        ]
        for answer, items in answers:
            for name, looks in items.items():
                leak = self.numbers.among[self.knowledge.symptoms[name].among]
                for look in looks:
                    leak *= 1 / len(self.knowledge.symptoms[name].attributes[look])
                chances = {}
                for cause, entry in self.knowledge.causes.items():
                    none = 1.0
                    for link in entry.symptom:
                        if link.symptom == name and self.holds(link):
                            none *= 1 - self.numbers.seen[link.seen] * self.look_share(link, name, looks)
                    chances[cause] = 1 - none
                found.append(Told(name, answer, leak, chances))
        return found

    def look_share(self, link, symptom: str, looks: Mapping[str, str]) -> float:
        share = 1.0
        for look, value in looks.items():
            count = len(self.knowledge.symptoms[symptom].attributes[look])
            stated = getattr(link, look)
            if not stated or len(stated) == count:
                share *= 1 / count
            elif value in stated:
                share *= 0.7 / len(stated)
            else:
                share *= 0.3 / (count - len(stated))
        return share

    def checks_told(self) -> list[Told]:
        found = []
        for check, outcome in self.facts.outcomes.items():
            for item in self.knowledge.checks[check].outcome:
                if item.normal:
                    continue
                chances = {}
                for cause, entry in self.knowledge.causes.items():
                    none = 1.0
                    for link in entry.check:
                        if (link.check, link.outcome) == (check, item.id) and self.holds(link):
                            none *= 1 - self.numbers.seen[link.seen]
                    chances[cause] = 1 - none
                answer = "present" if item.id == outcome else "absent"
                found.append(Told(f"{check}={item.id}", answer, self.numbers.among[item.among], chances))
        return found

    def base_odds(self) -> dict[str, float]:
        """One factor on all odds makes the chances add up to the expected number of causes."""
        odds = {name: (p := self.numbers.usual[c.usual]) / (1 - p) for name, c in self.knowledge.causes.items()}
        wanted = min(1.3, 0.9 * len(odds))
        low, high = -20.0, 20.0
        while (middle := (low + high) / 2) not in {low, high}:
            few = sum(o * math.exp(middle) / (1 + o * math.exp(middle)) for o in odds.values()) < wanted
            low, high = (middle, high) if few else (low, middle)
        return {name: value * math.exp(low) for name, value in odds.items()}

    def day_factor(self, name: str) -> float:
        """What the facts about the day multiply a cause's odds by: one of each group, at most thirty times in all."""
        entry, logs = self.knowledge.causes[name], 0.0
        for kind, sign in (("likelier", 1), ("unlikelier", -1)):
            groups: dict[str, float] = {}
            for number, shift in enumerate(getattr(entry, kind)):
                if self.holds(shift):
                    key = shift.group or f"{number}"
                    groups[key] = max(groups.get(key, 0.0), math.log(self.numbers.weight[shift.weight]))
            logs += sign * sum(groups.values())
        factor = math.exp(max(-math.log(30), min(math.log(30), logs)))
        return factor * (1e-4 if any(map(self.holds, entry.ruled_out)) else 1.0)

    def tried_factor(self, name: str) -> float:
        entry, factor = self.knowledge.causes[name], 1.0
        for remedy, result in self.facts.tried:
            sure = next((self.numbers.surely[link.surely] for link in entry.remedy if link.do == remedy), 0.0)
            slip = entry.scope == "this-plate" and (sure > 0 or result == "no-change")
            gone = 1 - (1 - sure) * 0.3 if slip else sure
            if gone:
                with_it = {"no-change": 1 - gone, "better": gone * (0.85 - 0.6 * gone), "cured": gone}[result]
                least = 1 if result == "cured" else 0.02
                factor *= max(least, with_it / {"no-change": 1.0, "better": 0.10, "cured": 0.15}[result])
        return factor

    def silent_factor(self, name: str) -> float:
        """Each symptom nobody spoke of, once something was; links that hang on a condition are left out."""
        factor = 1.0
        if self.facts.present or self.facts.unsure:
            for symptom, entry in self.knowledge.symptoms.items():
                links = [link for link in self.knowledge.causes[name].symptom if link.symptom == symptom]
                none = math.prod(1 - self.numbers.seen[link.seen] for link in links if not link.when)
                if not self.facts.answered(symptom):
                    factor *= 1 - self.numbers.notice[entry.notice] * (1 - none)
            order, told = list(self.knowledge.attributes["first_seen"].values), self.facts.present | self.facts.unsure
            come_to = [look.get("first_seen", self.knowledge.symptoms[sign].first_seen) for sign, look in told.items()]
            stage = self.knowledge.stages[name.partition("/")[0]]
            if order.index(stage.first_step) > max(map(order.index, come_to)):
                factor *= stage.reached
        return factor

    def posterior(self, *, silent: bool = True) -> Posterior:
        odds = self.base_odds()
        for name in odds:
            odds[name] *= self.day_factor(name) * self.tried_factor(name) * math.exp(self.facts.earlier.get(name, 0.0))
            odds[name] *= self.silent_factor(name) if silent else 1.0
        families: dict[str, list[str | None]] = {}
        for name, cause in self.knowledge.causes.items():
            families.setdefault(cause.exclusive or f"only {name}", [None]).append(name)
        totals: dict[str, list[float]] = {"": []}
        for choice in itertools.product(*families.values()):
            world = [name for name in choice if name]
            weight = math.prod(odds[name] for name in world)
            factors = []
            for told in self.told:
                from_causes = 1 - math.prod(1 - told.chances[name] for name in world)
                shows = told.leak + (1 - told.leak) * from_causes
                factors.append(
                    {"present": shows, "unsure": 0.8 * shows + 0.2 * (1 - shows), "absent": 1 - shows}[told.answer]
                )
            weight *= math.prod(factors)
            totals[""].append(weight)
            for name in world:
                totals.setdefault(name, []).append(weight)
            for told, factor in zip(self.told, factors, strict=True):
                if told.answer != "absent":
                    sure = 1.0 if told.answer == "present" else 0.8
                    totals.setdefault(told.name, []).append(weight / factor * told.leak * sure)
        whole = math.fsum(totals.pop(""))
        chances = {name: math.fsum(weights) / whole for name, weights in totals.items()}
        causes = {name: chances.pop(name) for name in self.knowledge.causes}
        return Posterior(causes, chances)


# Knowledge and plates ---------------------------------------------------------------------------------------------------


def cut_down(knowledge: Knowledge, seed: int, **changes: object) -> Knowledge:
    """A dozen causes drawn at random, but an exclusive pair among them; all the rest is kept."""
    chance = random.Random(seed)
    pairs: dict[str, list[str]] = {}
    for name, cause in knowledge.causes.items():
        if cause.exclusive:
            pairs.setdefault(cause.exclusive, []).append(name)
    kept = {*pairs[sorted(pairs)[seed % len(pairs)]]}
    kept |= {*pairs[sorted(pairs)[(seed + 2) % len(pairs)]]}
    rest = [name for name in sorted(knowledge.causes) if name not in kept]
    kept |= {*chance.sample(rest, MOST_CAUSES - seed % 2 - len(kept))}
    causes = {name: cause for name, cause in knowledge.causes.items() if name in kept}
    return replace(knowledge, causes=causes, version=f"cut {seed} {sorted(changes)}", **changes)


def plate_for(knowledge: Knowledge, chance: random.Random) -> dict[str, dict]:
    """Mostly what these causes show and what moves them, so that every part of the sum has something to do."""
    liked = [link.symptom for cause in knowledge.causes.values() for link in cause.symptom]
    symptoms = {}
    for name in [
        *chance.sample(liked, min(len(liked), chance.randint(0, 6))),
        *chance.sample(sorted(knowledge.symptoms), 2),
    ]:
        offered = knowledge.symptoms[name].attributes
        looks = {key: chance.choice(values) for key, values in offered.items() if chance.random() < 0.4}
        symptoms[name] = {"answer": chance.choice(("present", "present", "absent", "unsure", "cant-tell")), **looks}
    conditions = {}
    for name in chance.sample(sorted(knowledge.conditions), chance.randint(0, 45)):
        entry = knowledge.conditions[name]
        if entry.kind == "quantity":
            low, high = entry.range
            conditions[name] = f"{low + (high - low) * chance.random() ** 3:.3f} {entry.unit}"
        else:
            conditions[name] = chance.choice(sorted(entry.answers))
    checks = {
        name: chance.choice([item.id for item in knowledge.checks[name].outcome])
        for name in chance.sample(sorted(knowledge.checks), chance.randint(0, 3))
        if knowledge.checks[name].outcome
    }
    remedies = sorted({link.do for cause in knowledge.causes.values() for link in cause.remedy})
    tried = [
        {"remedy": chance.choice(remedies), "result": chance.choice(("no-change", "better", "cured"))}
        for _ in range(chance.choice((0, 0, 1, 2)))
    ]
    return {"symptoms": symptoms, "conditions": conditions, "checks": checks, "tried": tried}


def weighed(told: Mapping[str, object], craft: Craft, **how) -> Posterior:
    facts = understand(Plate.read(told), craft.knowledge)
    return weigh(gather(facts, fire(facts, craft), craft), craft, **how)


def gap(one: Posterior, other: Posterior) -> float:
    assert one.causes.keys() == other.causes.keys()
    assert one.leaks.keys() == other.leaks.keys()
    gaps = [abs(one.causes[name] - other.causes[name]) for name in one.causes]
    return max(gaps + [abs(one.leaks[name] - other.leaks[name]) for name in one.leaks])


@pytest.fixture(scope="module")
def craft(knowledge):
    return craft_of(knowledge)


# Against the longhand ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(CUTS))
def test_equals_adding_up_every_set_of_causes(knowledge, seed):
    craft = make_craft(cut_down(knowledge, seed))
    chance = random.Random(seed)
    worst, used = 0.0, set()
    assert len(craft.model.base) <= MOST_CAUSES
    assert any(len(group) > 1 for group in craft.model.groups)
    for number in range(PLATES_A_CUT):
        facts = understand(Plate.read(plate_for(craft.knowledge, chance)), craft.knowledge)
        if number % 2:  # as if a daybook had something to say of some causes, and of one that is no longer known
            known = chance.sample(sorted(craft.knowledge.causes), 3)
            facts = replace(facts, earlier={name: chance.uniform(-4, 4) for name in (*known, "long/forgotten")})
        evidence = gather(facts, fire(facts, craft), craft)
        silent = number % 3 != 0
        longhand = Longhand(facts, craft.knowledge)
        worst = max(worst, gap(weigh(evidence, craft, silent=silent), longhand.posterior(silent=silent)))
        assert evidence.firing.facts >= {f"state:{state}" for state in longhand.states}
        used |= {note.note.kind for shifts in evidence.shifts.values() for note in shifts}
        used |= {finding.answer for finding in evidence.findings}
        used |= {"check" for finding in evidence.findings if "=" in finding.name}
        used |= {"attribute" for looks in facts.present.values() if looks}
    print(f"worst error of cut {seed}, {PLATES_A_CUT} plates: {worst:.2g}")
    assert worst <= SMALL
    assert used >= {"likelier", "unlikelier", "tried", "earlier", "present", "unsure", "absent", "check", "attribute"}


def test_a_ruled_out_cause_keeps_a_ten_thousandth_of_its_odds(knowledge):
    owners = [name for name, cause in knowledge.causes.items() if cause.ruled_out]
    assert owners
    for owner in owners:
        kept = dict(list(knowledge.causes.items())[:8]) | {owner: knowledge.causes[owner]}
        cut = replace(knowledge, causes=kept, version=f"ruled out {owner}")
        craft = make_craft(cut)
        for entry in knowledge.causes[owner].ruled_out:
            told = {"symptoms": {knowledge.causes[owner].symptom[0].symptom: True}, "conditions": {}, "checks": {}}
            for words in entry.when:
                make_pass(words, told, cut)
            facts = understand(Plate.read(told), cut)
            longhand = Longhand(facts, cut)
            assert longhand.holds(entry)
            evidence = gather(facts, fire(facts, craft), craft)
            assert any(shift.note.kind == "ruled_out" for shift in evidence.shifts[owner])
            found = weigh(evidence, craft)
            assert gap(found, longhand.posterior()) <= SMALL
            assert 0 < found.causes[owner] < 0.2
            assert odds_before_findings(evidence, craft)[owner] <= craft.model.base[owner] * 30 * 1.0000001e-4


def make_pass(words: str, told: dict[str, dict], knowledge: Knowledge) -> None:
    """Tell the plate so that it passes the test; a state comes about in the first of its ways."""
    if match := re.fullmatch(r"(\w+) (>=|<=|>|<) (\S+) (.+)", words):
        name, sign, amount, unit = match.groups()
        told["conditions"][name] = f"{float(amount) * (1.02 if '>' in sign else 0.98):.4f} {unit}"
        return
    match words.split():
        case [name, "is", option]:
            told["conditions"][name] = option
        case [name, "seen"]:
            told["symptoms"][name] = True
        case [name, "found", outcome]:
            told["checks"][name] = outcome
        case [state]:
            for part in knowledge.states[state].way[0].when:
                make_pass(part, told, knowledge)
        case _:
            raise AssertionError(f"make {words!r} pass by hand")


def test_the_facts_of_the_day_are_capped_together(knowledge):
    """However many speak for a cause, its odds rise thirty times at most."""
    craft = craft_of(knowledge)
    chance, highest = random.Random(2), 0.0
    for _ in range(400):
        facts = understand(Plate.read({"conditions": plate_for(knowledge, chance)["conditions"]}), knowledge)
        evidence = gather(facts, fire(facts, craft, craft.bulk), craft)
        for cause, odds in odds_before_findings(evidence, craft).items():
            ruled_out = any(shift.note.kind == "ruled_out" for shift in evidence.shifts.get(cause, ()))
            factor = odds / craft.model.base[cause] / (1e-4 if ruled_out else 1)
            assert 1 / 30.000001 < factor < 30.000001
            highest = max(highest, factor)
    assert highest == pytest.approx(30)


# How it is told does not matter -----------------------------------------------------------------------------------------


def test_order_of_the_plate_never_matters(craft):
    chance = random.Random(8)
    for _ in range(60):
        told = plate_for(craft.knowledge, chance)
        turned = {
            "checks": dict(reversed(told["checks"].items())),
            "tried": told["tried"],
            "conditions": dict(sorted(told["conditions"].items(), key=lambda _: chance.random())),
            "symptoms": dict(sorted(told["symptoms"].items(), key=lambda _: chance.random())),
        }
        assert weighed(told, craft) == weighed(turned, craft)


def test_telling_a_symptom_twice_is_once_or_refused(craft, knowledge):
    assert weighed({"symptoms": ["comets", "comets"]}, craft) == weighed({"symptoms": {"comets": "yes"}}, craft)
    name, synonym = next(
        (name, entry.title) for name, entry in knowledge.symptoms.items() if entry.title.casefold() != name
    )
    with pytest.raises(PlateError, match="told twice"):
        weighed({"symptoms": {name: True, synonym: True}}, craft)


def test_a_synonym_is_as_good_as_the_name(craft, knowledge):
    """The findings may stand in another order then, so the last figure may differ."""
    chance = random.Random(21)
    for _ in range(20):
        told = plate_for(knowledge, chance)
        by_title = {knowledge.symptoms[name].title: answer for name, answer in told["symptoms"].items()}
        assert gap(weighed(told, craft), weighed(told | {"symptoms": by_title}, craft)) <= SMALL


def test_the_two_engines_weigh_the_same(craft):
    chance = random.Random(5)
    for _ in range(40):
        facts = understand(Plate.read(plate_for(craft.knowledge, chance)), craft.knowledge)
        durable = weigh(gather(facts, fire(facts, craft), craft), craft)
        assert weigh(gather(facts, fire(facts, craft, craft.bulk), craft), craft) == durable


# Four answers and silence -----------------------------------------------------------------------------------------------


def freely_linked(knowledge: Knowledge) -> list[str]:
    """Symptoms no link of which hangs on a condition, and which no test asks about."""
    tied = {link.symptom for cause in knowledge.causes.values() for link in cause.symptom if link.when}
    words = repr(knowledge)
    return [name for name in knowledge.symptoms if name not in tied and f"{name} seen" not in words]


def test_cannot_tell_leaves_out_only_the_silence(craft, knowledge):
    """Without soft negatives it is the same as not mentioned; with them it takes this one symptom's away, and nothing else."""
    for name in knowledge.symptoms:
        if name == "comets":
            continue
        plain, asked = {"symptoms": {"comets": True}}, {"symptoms": {"comets": True, name: "cant-tell"}}
        assert weighed(asked, craft, silent=False) == weighed(plain, craft, silent=False)
        factors = {}
        for key, told in (("plain", plain), ("asked", asked)):
            facts = understand(Plate.read(told), knowledge)
            factors[key] = gather(facts, fire(facts, craft, craft.bulk), craft).silent
        for cause in knowledge.causes:
            lost = factors["plain"].get(cause, 1.0) / factors["asked"].get(cause, 1.0)
            chance = craft.model.plain_links.get(name, {}).get(cause, 0.0)
            assert lost == pytest.approx(1 - craft.model.notice[name] * chance)


def test_cannot_tell_of_a_condition_or_a_check_is_the_same_as_not_given(craft, knowledge):
    plain = weighed({"symptoms": {"comets": True}}, craft)
    conditions = dict.fromkeys(knowledge.conditions, "?")
    checks = dict.fromkeys(knowledge.checks, "?")
    assert weighed({"symptoms": {"comets": True}, "conditions": conditions, "checks": checks}, craft) == plain


def test_silence_says_nothing_before_something_was_seen(craft, knowledge):
    prior = weighed({}, craft, silent=False)
    assert weighed({}, craft) == prior
    assert weighed({"symptoms": {"comets": "cant-tell"}}, craft) == prior
    facts = understand(Plate.read({"symptoms": {"comets": False}}), knowledge)
    assert gather(facts, fire(facts, craft), craft).silent == {}
    assert sum(prior.causes.values()) == pytest.approx(1.3, abs=0.06)  # exclusive pairs cannot both be at work


@pytest.mark.parametrize(("rho", "answer"), [(1.0, "absent"), (0.0, "cant-tell")])
def test_silence_runs_from_cannot_tell_to_absent(knowledge, rho, answer):
    """Surely told if there: silence is a no. Never told unasked: silence is nothing."""
    notice = dict.fromkeys(knowledge.strengths.notice, rho)
    cut = cut_down(knowledge, 4, strengths=replace(knowledge.strengths, notice=notice))
    craft = make_craft(cut)
    free = freely_linked(cut)
    chance = random.Random(6)
    for _ in range(15):
        told = plate_for(cut, chance)
        told["symptoms"] = {name: given for name, given in told["symptoms"].items() if name in free}
        if not any(given["answer"] in {"present", "unsure"} for given in told["symptoms"].values()):
            continue
        # links that hang on a condition count when a symptom is answered, but not in silence
        rest = {name: {"answer": answer} for name in free if name not in told["symptoms"]}
        tied = {name: {"answer": "cant-tell"} for name in cut.symptoms if name not in free}
        silent = weighed(told | {"symptoms": told["symptoms"] | tied}, craft)
        spoken = weighed(told | {"symptoms": told["symptoms"] | tied | rest}, craft)
        assert gap(silent, spoken) <= SMALL


def test_unsure_lies_between_absent_and_present(craft, knowledge):
    """For a cause that alone explains a symptom."""
    owners: dict[str, set[str]] = {}
    for name, cause in knowledge.causes.items():
        for link in cause.symptom:
            owners.setdefault(link.symptom, set()).add(name)
    free = freely_linked(knowledge)
    alone = [(symptom, *causes) for symptom, causes in owners.items() if len(causes) == 1 and symptom in free]
    assert alone
    for symptom, cause in alone:
        chances = [
            weighed({"symptoms": {symptom: answer}}, craft, silent=False).causes[cause]
            for answer in ("absent", "cant-tell", "unsure", "present")
        ]
        assert chances == sorted(chances)
        assert len(set(chances)) == 4


def test_leaving_a_finding_out_is_as_if_it_could_not_be_told(craft, knowledge):
    free = freely_linked(knowledge)
    chance = random.Random(12)
    for _ in range(40):
        told = plate_for(knowledge, chance)
        answered = [name for name, given in told["symptoms"].items() if given["answer"] != "cant-tell" and name in free]
        positive = [name for name, given in told["symptoms"].items() if given["answer"] in {"present", "unsure"}]
        if not answered or len(positive) < 2:
            continue
        left = answered[0]
        steps = list(knowledge.attributes["first_seen"].values)
        reached = {
            name: steps.index(told["symptoms"][name].get("first_seen", knowledge.symptoms[name].first_seen))
            for name in positive
        }
        if reached.pop(left, -1) > max(reached.values()):
            continue  # it alone shows how far the plate has come
        without = weighed(told, craft, without={left})
        asked = weighed(told | {"symptoms": told["symptoms"] | {left: {"answer": "cant-tell"}}}, craft)
        assert gap(without, asked) <= SMALL


def test_suppose_is_the_same_as_being_told(craft, knowledge):
    facts = understand(Plate.read({"symptoms": {"comets": True}}), knowledge)
    other, posterior = suppose(facts, craft, present={"comets": {}, "thin-blue-film": {}})
    assert {*other.present} == {"comets", "thin-blue-film"}
    assert posterior == weigh(gather(other, fire(other, craft), craft), craft)


# Theorems on the real knowledge -----------------------------------------------------------------------------------------


def test_law_of_total_probability_on_real_plates(craft, knowledge):
    """Before a look at one more symptom, what is believed is the mean of what would be believed after it.

    The chance of a yes follows from the cause the answer moves most; with it every other cause must come out right.
    """
    free = freely_linked(knowledge)
    chance = random.Random(31)
    for _ in range(40):
        told = plate_for(knowledge, chance)
        name = chance.choice([name for name in free if name not in told["symptoms"]])
        before, yes, no = (
            weighed(told | {"symptoms": told["symptoms"] | {name: answer}}, craft, silent=False).causes
            for answer in ("cant-tell", "present", "absent")
        )
        most = max(yes, key=lambda cause: abs(yes[cause] - no[cause]))
        share = (before[most] - no[most]) / (yes[most] - no[most])
        assert 0 < share < 1
        for cause in before:
            assert before[cause] == pytest.approx(share * yes[cause] + (1 - share) * no[cause], abs=1e-10)


def test_every_number_is_a_probability(craft):
    chance = random.Random(77)
    for _ in range(150):
        result = weighed(plate_for(craft.knowledge, chance), craft)
        assert all(0 <= value <= 1 for value in (*result.causes.values(), *result.leaks.values()))
        assert all(map(math.isfinite, result.causes.values()))
        for group in craft.model.groups:
            assert sum(result.causes[cause] for cause in group) <= 1 + SMALL


def test_more_findings_than_the_sum_can_hold_are_set_aside_and_named(craft, knowledge):
    told = {"symptoms": dict.fromkeys(list(knowledge.symptoms)[: MOST_EXACT + 3], True)}
    result = weighed(told, craft)
    assert len(result.set_aside) == 3
    assert len(result.leaks) == MOST_EXACT
    assert not {*result.set_aside} & {*result.leaks}
    assert {*result.set_aside} | {*result.leaks} == {*told["symptoms"]}
    assert weighed({"symptoms": dict(reversed(told["symptoms"].items()))}, craft) == result
    fewer = {"symptoms": dict.fromkeys(list(knowledge.symptoms)[:MOST_EXACT], True)}
    assert not weighed(fewer, craft).set_aside
