"""What comes first: look before you treat, cheap and reversible first, the bath last; and the sums behind it."""

import dataclasses
import itertools
import math
from collections import Counter

import pytest

import diagnose
from diagnose.advice import planning
from diagnose.advice.actions import BATH, LINGER_MINUTES, Action
from diagnose.advice.planning import CALL_OUT_MINUTES, MODES, STEPS_AHEAD, expected_cost, share_by_kind
from diagnose.entries.tests_in_words import Found, InState, Seen, read_test
from diagnose.reasoning.atoms import condition_test
from diagnose.reasoning.craft import make_craft
from diagnose.reasoning.weighing import gather

WAYS = ("anything", "likely", "bath")
FUZZED = 450  # plates, shared among the ways; each in both modes
QUICK_MINUTES = 5
# What undoes, or muddles, what the other does; written down here once more, on purpose.
NEVER_BOTH = [
    {"give-more-exposure", "give-less-exposure"},
    {"develop-longer", "stop-development-sooner"},
    {"cool-the-developer", "warm-the-developer"},
    {"more-alcohol-in-developer", "less-alcohol-in-developer"},
    {"dip-sooner", "wait-for-the-set"},
    {"cool-the-bath", "warm-the-bath"},
    {"fix-longer-or-fresh", "weaken-the-fixer"},
]


# What must hold of every plan ---------------------------------------------------------------


def faults(plan, facts, knowledge):
    """Everything wrong with how a plan begins, reckoned from the entries alone."""
    found = []
    if plan.first is not None and plan.first.kind == "remedy":
        found += unsafe_start(plan.first.id, facts, knowledge)
    for action in plan.together:
        if action.kind == "remedy":
            found += unsafe_start(action.id, facts, knowledge)
    return found


def unsafe_start(name, facts, knowledge):
    """A bath treated unseen, or a risky remedy without the finding that calls for it."""
    remedy, found = knowledge.remedies[name], []
    if remedy.touches == BATH:
        found += [f"{name} before {check}" for check in open_bath_looks(name, facts, knowledge)]
    if remedy.needs and not any(all(holds(words, facts, knowledge) for words in group) for group in remedy.needs):
        found.append(f"{name} without what it needs")
    if any(holds(words, facts, knowledge) for words in remedy.never_when):
        found.append(f"{name} although it is never to be done then")
    if name in {tried for tried, _ in facts.tried}:
        found.append(f"{name} again")
    return found


def open_bath_looks(name, facts, knowledge):
    """Checks that cost no plate, could clear the bath, are linked to a cause the remedy treats, and have not been answered."""
    linked = {
        link.check
        for cause in knowledge.causes.values()
        if any(treatment.do == name for treatment in cause.remedy)
        for link in cause.check
    }
    return [
        check
        for check in sorted(linked)
        if BATH in knowledge.checks[check].could_clear
        and knowledge.checks[check].plates == 0
        and check not in facts.outcomes
        and check not in facts.open
    ]


def holds(words, facts, knowledge):
    match read_test(words):
        case Found(check, outcome):
            return facts.outcomes.get(check) == outcome
        case Seen(symptom):
            return symptom in facts.present
        case InState(state):
            ways = knowledge.states[state].way
            return any(
                all(holds(test, facts, knowledge) for test in way.when)
                and not any(holds(test, facts, knowledge) for test in way.unless)
                for way in ways
            )
        case _:
            return condition_test(words, knowledge).holds(facts)


def bundle_faults(plan, knowledge):
    """A bundle holds only quick, reversible changes that spend no plate and do not undo one another; find-out has none."""
    if not plan.together:
        return []
    found = ["a bundle while finding out"] if plan.mode == "find-out" else []
    ids = [plan.first.id, *(action.id for action in plan.together)]
    if len(set(ids)) < len(ids) or len(ids) > planning.MOST_BUNDLED:
        found.append(f"{ids} is no bundle")
    for action in plan.together:
        remedy = knowledge.remedies[action.id]
        if remedy.minutes > QUICK_MINUTES or remedy.plates or not remedy.reversible or action.first:
            found.append(f"{action.id} is not quick and harmless")
    found += [f"{sorted(pair)} in one bundle" for pair in NEVER_BOTH if pair <= set(ids)]
    if plan.first.kind != "remedy":
        found.append("changes bundled with a look")
    return found


def plan_faults(plan, facts, knowledge):
    """Every action stands once, none was tried before, and no check was answered before."""
    actions = [action for action in (plan.first, *plan.together, *plan.then, *plan.later) if action]
    found = [f"{name} twice" for name, count in Counter(action.id for action in actions).items() if count > 1]
    found += [f"{action.id} was tried" for action in actions if action.id in {name for name, _ in facts.tried}]
    found += [f"{action.id} was made" for action in actions if action.kind == "check" and facts.answered(action.id)]
    found += [f"{action.id} bears no chance" for action in actions if not action.helps > 0]
    return found


def all_faults(plate, mode):
    plan, knowledge = plate.plan(mode), plate.craft.knowledge
    return plan, [
        *faults(plan, plate.facts, knowledge),
        *bundle_faults(plan, knowledge),
        *plan_faults(plan, plate.facts, knowledge),
    ]


@pytest.mark.parametrize("mode", MODES)
def test_every_written_plate_begins_safely(mode, written_plates, weighed, craft):
    firsts = Counter()
    for told in written_plates:
        plan, found = all_faults(weighed(told, craft), mode)
        assert not found, told
        firsts[plan.first.kind if plan.first else "nothing"] += 1
        split = share_by_kind(weighed(told, craft).posterior, craft)
        assert math.isclose(sum(split.values()), 1, abs_tol=1e-12)
        assert all(0 <= share <= 1 for share in split.values())
    print(f"\n{mode}: first comes {dict(firsts)}")
    assert firsts["remedy"]
    assert firsts["check"]


@pytest.mark.parametrize("way", WAYS)
def test_fuzzed_plates_begin_safely(way, drawn, draw_with, weighed, craft):
    chance, met = draw_with(way), Counter()
    for _ in range(FUZZED // len(WAYS) * (2 if way == "bath" else 1)):
        plate = weighed(getattr(drawn, way)(chance, craft.knowledge), craft)
        for mode in MODES:
            plan, found = all_faults(plate, mode)
            assert not found, plate.told
            met["bundle"] += bool(plan.together)
            if plan.first and plan.first.kind == "remedy":
                met["remedy"] += 1
                met["bath"] += craft.knowledge.remedies[plan.first.id].touches == BATH
                met["needs"] += bool(craft.knowledge.remedies[plan.first.id].needs)
        split = share_by_kind(plate.posterior, craft)
        assert math.isclose(sum(split.values()), 1, abs_tol=1e-12)
    print(f"\n{way}: {dict(met)}")
    assert met["remedy"] > 50
    assert met["bundle"] > 10
    if way == "bath":
        assert met["bath"] > 20  # the bath is treated, once all else is said
        assert met["needs"] > 0


def test_the_fuzz_bites(drawn, draw_with, weighed, craft):
    """With looks that clear nothing, and remedies that need nothing, the same plates do begin with the bath."""
    knowledge = craft.knowledge
    careless = make_craft(
        dataclasses.replace(
            knowledge,
            version="careless",
            checks={name: dataclasses.replace(check, could_clear=()) for name, check in knowledge.checks.items()},
            remedies={
                name: dataclasses.replace(remedy, needs=(), never_when=(), reversible=True)
                for name, remedy in knowledge.remedies.items()
            },
        )
    )
    chance, found = draw_with("careless"), []
    for _ in range(180):
        plate = weighed(drawn.bath(chance, knowledge), careless)
        for mode in MODES:
            found += faults(plate.plan(mode), plate.facts, knowledge)
    said = " ".join(found)
    assert " before " in said
    assert "without what it needs" in said
    assert "never to be done" in said


@pytest.mark.parametrize("pair", NEVER_BOTH, ids=lambda pair: "+".join(sorted(pair)))
def test_each_clash_keeps_the_two_apart(pair, craft):
    """Two changes that undo each other are never bundled, whichever comes first."""
    one, other = (quick_action(name) for name in sorted(pair))
    for first, second in ((one, other), (other, one)):
        bundle = planning._together(first, [first, second, quick_action("practise-the-pour")])
        assert [action.id for action in bundle] == ["practise-the-pour"]


def quick_action(name, **other):
    plain = {"kind": "remedy", "helps": 0.3, "causes": ((f"treated-by/{name}", 0.3),), "cost": 12.0, "minutes": 1.0}
    return Action(id=name, **{**plain, "plates": 0, "reversible": True, "cautions": (), **other})


def test_a_bundle_takes_only_what_is_quick_harmless_and_new():
    first = quick_action("sweep-developer-on")
    slow = quick_action("slow", minutes=QUICK_MINUTES + 0.1)
    costly = quick_action("costly", plates=1)
    lasting = quick_action("lasting", reversible=False)
    same = quick_action("same", causes=first.causes)
    good, more, last = quick_action("good"), quick_action("more"), quick_action("last")
    ready = [first, slow, costly, lasting, same, good, more, last]
    assert planning._together(first, ready) == (good, more)
    assert planning._together(quick_action("sweep-developer-on", helps=0.9), ready) == ()
    assert planning._together(quick_action("sweep-developer-on", kind="check"), ready) == ()


# Chance over cost ---------------------------------------------------------------


def in_order_of_waiting(order, options, belief):
    """Minutes until the fault is put right if remedies are tried in this order; the longhand."""
    left, total = list(belief), 0.0
    for number in order:
        cost, row = options[number]
        total += cost * sum(left)
        left = [weight * (1 - sure) for weight, sure in zip(left, row, strict=True)]
    return total + CALL_OUT_MINUTES * sum(left)


def best_of_all_orders(options, belief):
    return min(in_order_of_waiting(order, options, belief) for order in itertools.permutations(range(len(options))))


def best_if_one_may_give_up(options, belief):
    """The best of all orders that stop anywhere."""
    return min(
        in_order_of_waiting(order, options, belief)
        for length in range(len(options) + 1)
        for order in itertools.permutations(range(len(options)), length)
    )


def test_no_order_is_better_for_one_fault_and_a_remedy_each(draw_with):
    """Where each remedy treats a cause of its own, chance over cost is the best of all orders, and giving up can only save."""
    chance, behind = draw_with("one fault"), []
    for _ in range(150):
        count = chance.randint(1, 6)
        weights = [chance.uniform(0.2, 1.2) for _ in range(count)]
        belief = [weight / sum(weights) for weight in weights]
        options = [
            (chance.uniform(1, 40), [chance.uniform(0.3, 1) if other == number else 0.0 for other in range(count)])
            for number in range(count)
        ]
        chance.shuffle(options)
        ours = expected_cost(belief, options)
        assert ours <= best_of_all_orders(options, belief) * (1 + 1e-12)
        behind.append(ours / best_if_one_may_give_up(options, belief) - 1)
    assert sum(behind) / len(behind) < 0.005
    assert max(behind) < 0.1


def test_remedies_that_share_causes_cost_little_more_than_the_best_order(draw_with):
    """There the order is a rule of thumb; how far it falls behind is printed and held."""
    chance, gaps, to_giving_up = draw_with("shared causes"), [], []
    for _ in range(150):
        causes, count = chance.randint(2, 6), chance.randint(2, 5)
        weights = [chance.random() for _ in range(causes)]
        belief = [weight / sum(weights) for weight in weights]
        rows = [[chance.choice((0, 0, 0.1, 0.3, 0.6, 0.8, 0.95)) for _ in range(causes)] for _ in range(count)]
        options = [(chance.uniform(8, 60), row) for row in rows]
        ours, best = expected_cost(belief, options), best_of_all_orders(options, belief)
        gaps.append(max(0.0, ours / best - 1))
        least = best_if_one_may_give_up(options, belief)
        assert ours >= least - 1e-9
        to_giving_up.append(ours / least - 1)
    print(f"\nbehind the best order: {sum(gaps) / len(gaps):.2%} on average, {max(gaps):.1%} at most", end="; ")
    print(f"behind giving up at the best moment: {sum(to_giving_up) / len(gaps):.1%}, {max(to_giving_up):.0%} at most")
    assert sum(gaps) / len(gaps) < 0.01
    assert max(gaps) < 0.10


def test_what_would_hardly_help_is_not_tried():
    """A remedy that costs more than it spares is left out of the sum; one that spares more is in."""
    assert expected_cost([1.0], [(10.0, [0.01])]) == CALL_OUT_MINUTES
    assert expected_cost([1.0], [(10.0, [0.5])]) == 10 + CALL_OUT_MINUTES * 0.5


def test_no_remedy_costs_the_call_out_and_only_so_many_are_looked_at():
    assert expected_cost([0.25, 0.5], []) == CALL_OUT_MINUTES * 0.75
    sure = [(1.0, [1.0 if cause == number else 0.0 for cause in range(12)]) for number in range(12)]
    left = [1 / 12] * 12
    tried = sum(12 - number for number in range(STEPS_AHEAD)) / 12
    assert math.isclose(expected_cost(left, sure), tried + CALL_OUT_MINUTES * (12 - STEPS_AHEAD) / 12)


def test_the_order_does_not_depend_on_how_remedies_were_listed(draw_with):
    chance = draw_with("listed")
    for _ in range(50):
        belief = [chance.random() for _ in range(4)]
        options = [(chance.uniform(5, 50), [chance.random() for _ in range(4)]) for _ in range(6)]
        expected = expected_cost(belief, options)
        chance.shuffle(options)
        assert math.isclose(expected_cost(belief, options), expected, rel_tol=1e-12)


# A look before a remedy ---------------------------------------------------------------


def test_a_look_comes_first_only_where_it_saves_time(written_plates, weighed, craft):
    """Its saving is positive, and the plan goes on with the remedies after it."""
    looks = 0
    for told in written_plates:
        plan = weighed(told, craft).plan("find-out")
        if plan.first and plan.first.kind == "check":
            looks += 1
            assert plan.first.helps > 0
            assert plan.then or plan.later
            assert plan.first.id not in {action.id for action in (*plan.then, *plan.later)}
    assert looks > 5


def test_long_and_lasting_work_waits_for_after_hours(written_plates, weighed, craft):
    for told in written_plates:
        plan = weighed(told, craft).plan("sitter-waiting")
        for action in plan.then:
            assert action.kind == "check" or (action.reversible and action.minutes <= 3 * QUICK_MINUTES), action.id
            assert not action.first or action.kind == "check"


# After a try ---------------------------------------------------------------


def shifts_of_trying(name, result, craft, weighed):
    """Cause -> what one try adds to its log-odds."""
    plate = weighed({"symptoms": {}, "tried": [{"remedy": name, "result": result}]}, craft)
    moved = gather(plate.facts, plate.firing, craft).shifts
    return {cause: sum(item.log_odds for item in items if item.note.kind == "tried") for cause, items in moved.items()}


def cured_by(name, knowledge):
    return [cause for cause, entry in knowledge.causes.items() if any(link.do == name for link in entry.remedy)]


def test_no_change_speaks_against_every_cause_the_remedy_cures_and_cured_for_it(craft, weighed):
    """Every remedy and every cause it is linked to: the weight of what the next plate showed has the right sign."""
    for name in craft.knowledge.remedies:
        cured = cured_by(name, craft.knowledge)
        assert cured, name
        for result in ("no-change", "cured"):
            shifts = shifts_of_trying(name, result, craft, weighed)
            for cause in cured:
                assert (shifts[cause] < 0) == (result == "no-change"), (name, cause, result, shifts[cause])
            lasting = {cause for cause, entry in craft.knowledge.causes.items() if entry.scope == "standing"}
            assert not {cause for cause, weight in shifts.items() if weight} & lasting - set(cured)


def surest(name, craft, weighed):
    """The cause against which a try in vain speaks most, among those the remedy is linked to."""
    shifts = shifts_of_trying(name, "no-change", craft, weighed)
    return min(cured_by(name, craft.knowledge), key=lambda cause: shifts[cause])


@pytest.mark.parametrize("mode", MODES)
def test_what_was_tried_in_vain_never_comes_back(mode, written_plates, weighed, craft):
    """Follow the advice with no change each time: no action is ever given twice, and the advice comes to an end."""
    lengths = []
    for told in written_plates[::24]:
        done, table = [], {"tried": [], **told, "checks": dict(told.get("checks", {}))}
        for _ in range(60):
            answer = diagnose.diagnose(table, craft.knowledge, mode=mode)
            plan = answer.plan
            every = {action.id for action in (plan.first, *plan.together, *plan.then, *plan.later) if action}
            assert not every & set(done)
            if plan.first is None:
                break
            done.append(plan.first.id)
            if plan.first.kind == "check":
                outcomes = craft.knowledge.checks[plan.first.id].outcome
                table["checks"][plan.first.id] = next(outcome.id for outcome in outcomes if outcome.normal)
                continue
            table["tried"] = [*table["tried"], {"remedy": plan.first.id, "result": "no-change"}]
            after = diagnose.diagnose(table, craft.knowledge, mode=mode).posterior.causes
            cause = surest(plan.first.id, craft, weighed)
            assert after[cause] < answer.posterior.causes[cause], (plan.first.id, cause)
        else:
            pytest.fail(f"no end of advice: {done}")
        lengths.append(len(done))
    print(f"\n{mode}: the advice ends after {min(lengths)} to {max(lengths)} tries in vain")


def test_a_cure_raises_what_it_cures(written_plates, weighed, craft):
    """The causes a remedy is linked to gain together when it cured, and the one it is surest of loses when nothing changed."""
    tried = 0
    for told in written_plates[::5]:
        answer = diagnose.diagnose(told, craft.knowledge)
        first = answer.plan.first
        if first is None or first.kind == "check":
            continue
        tried += 1
        cause, linked = surest(first.id, craft, weighed), cured_by(first.id, craft.knowledge)
        after = {
            result: diagnose.diagnose({**told, "tried": [{"remedy": first.id, "result": result}]}, craft.knowledge)
            for result in ("no-change", "better", "cured")
        }
        before = answer.posterior.causes
        chances = {result: found.posterior.causes for result, found in after.items()}
        assert chances["no-change"][cause] < before[cause], (first.id, cause)
        assert chances["no-change"][cause] < chances["better"][cause], (first.id, cause)
        assert sum(before[name] for name in linked) < sum(chances["cured"][name] for name in linked), first.id
    assert tried > 20


def test_a_cure_says_little_of_slips_it_has_nothing_to_do_with(knowledge):
    told = {"symptoms": {"comets": True}, "tried": [{"remedy": "use-other-collodion", "result": "cured"}]}
    before = diagnose.diagnose({"symptoms": {"comets": True}}, knowledge).posterior.causes
    after = diagnose.diagnose(told, knowledge).posterior.causes
    assert after["development/developer-halted"] < 2 * before["development/developer-halted"]
    assert sum(after.values()) < 2 * sum(before.values())


def test_lingering_costs_something():
    """A change that takes no time at all is not free: otherwise chance over cost would know no bounds."""
    assert LINGER_MINUTES > 0
