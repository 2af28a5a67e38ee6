"""The pages of causes and signs: nothing wanting, nothing made up, and what parts two causes truly parts them."""

from dataclasses import replace

import pytest

from diagnose.entries.observed import Beside
from diagnose.teaching.chain import cause_page, chain_of, cited, neighbours_of, symptom_page
from diagnose.teaching.mechanism import earliest_step
from diagnose.teaching.parting import APART, best_check, outcomes_of, partings

MARKS = {"common-practice", "from-memory", "judged"}
IODIDE = "silver-bath/bath-full-of-iodide"
DIRTY = "holder-and-camera/dirty-holder"


@pytest.fixture(scope="module")
def cause_pages(knowledge):
    return {name: cause_page(name, knowledge) for name in knowledge.causes}


@pytest.fixture(scope="module")
def symptom_pages(knowledge):
    return {name: symptom_page(name, knowledge) for name in knowledge.symptoms}


def test_every_cause_has_three_steps_with_a_source_each(cause_pages):
    for name, page in cause_pages.items():
        assert len(page.chain.steps) >= 3, name
        assert all(step.source for step in page.chain.steps), name
        assert all(line.source for step in page.chain.steps for line in step.chemistry), name
        assert any(step.shows for step in page.chain.steps), f"{name}: the chain ends in no mark on the plate"


def test_every_cause_says_what_to_practise_and_what_it_is_taken_for(cause_pages):
    for name, page in cause_pages.items():
        assert page.practise.endswith("."), name
        assert len(page.practise) <= 170, f"{name}: an exercise is one short sentence"
        assert page.look_alikes, name
        assert page.prevention, name
        assert page.remedies, name
    exercises = [page.practise for page in cause_pages.values()]
    assert len(set(exercises)) == len(exercises)


def test_a_cause_shows_no_earlier_than_it_is_born(cause_pages, knowledge):
    order = list(knowledge.attributes["first_seen"].values)
    for name, page in cause_pages.items():
        born = knowledge.stages[page.chain.born].first_step
        assert order.index(page.chain.first_shows) >= order.index(born), name
        assert page.chain.first_signs, name


def test_where_it_is_born_and_where_it_shows_may_be_far_apart(cause_pages):
    chain = cause_pages["support/dirty-plate"].chain
    assert (chain.born_words, chain.first_shows) == ("The plate itself", "development")
    assert cause_pages[IODIDE].chain.first_shows == "leaving-bath"
    assert cause_pages[IODIDE].chain.first_signs == ("sanded-film",)
    assert cause_pages["washing-and-drying/fixer-left-in"].chain.first_shows == "later"


def test_what_is_said_outright_beats_what_the_signs_would_say(cause_pages, knowledge):
    hands = knowledge.causes["darkroom/hands-carry-fixer"]
    assert knowledge.symptoms[hands.symptom[0].symptom].first_seen == "coating"
    assert cause_pages["darkroom/hands-carry-fixer"].chain.first_shows == hands.first_shows == "development"


def test_a_chain_is_the_knowledges_own(knowledge):
    chain, entry = chain_of(IODIDE, knowledge), knowledge.causes[IODIDE]
    assert [step.words for step in chain.steps] == [step.then for step in entry.step]
    assert chain.steps[2].sign == knowledge.symptoms["sanded-film"].title
    assert [line.name for line in chain.steps[2].chemistry] == ["iodide-falls-out"]
    assert "jones1911 Silver Iodide" in chain.sources
    assert len(set(chain.sources)) == len(chain.sources)


def test_every_sign_has_look_names_neighbours_and_causes(symptom_pages):
    for name, page in symptom_pages.items():
        assert page.look, name
        assert len({*page.synonyms, *page.period}) >= 2, name
        assert page.neighbours, name
        assert page.causes, name
        assert all(near.differs.endswith(".") and near.source for near in page.neighbours), name


def test_neighbours_see_each_other_and_are_told_apart_alike(symptom_pages):
    told = {(name, near.symptom): near.differs for name, page in symptom_pages.items() for near in page.neighbours}
    for (first, second), differs in told.items():
        assert told[second, first] == differs
    assert len(set(told.values())) * 2 == len(told), "two pairs are told apart by one sentence"


def test_a_sign_sees_a_neighbour_that_names_it(knowledge):
    fog = knowledge.symptoms["fog"]
    alone = {name: replace(entry, beside=()) for name, entry in knowledge.symptoms.items()}
    told = Beside(from_=("judged",), symptom="comets", differs="A comet has a tail.")
    alone["fog"] = replace(fog, beside=(told,))
    few = replace(knowledge, symptoms=alone)
    assert [near.symptom for near in neighbours_of("comets", few)] == ["fog"]
    assert [near.symptom for near in neighbours_of("fog", few)] == ["comets"]
    assert neighbours_of("specks", few) == ()


def test_causes_of_a_sign_are_all_of_them_the_likeliest_first(symptom_pages, knowledge):
    seen, usual = knowledge.strengths.seen, knowledge.strengths.usual
    for name, page in symptom_pages.items():
        linked = {
            cause for cause, entry in knowledge.causes.items() if any(link.symptom == name for link in entry.symptom)
        }
        assert {cause.cause for cause in page.causes} == linked
        worth = [seen[cause.seen] * usual[cause.usual] for cause in page.causes]
        assert worth == sorted(worth, reverse=True)


def test_most_causes_of_a_sign_have_a_check_that_tells_them(symptom_pages):
    rows = [cause for page in symptom_pages.values() for cause in page.causes if len(page.causes) > 1]
    told = sum(1 for cause in rows if cause.check)
    assert told / len(rows) > 0.95, f"{told} of {len(rows)}"


def test_the_best_check_sets_a_cause_apart(symptom_pages, knowledge):
    for page in symptom_pages.values():
        rivals = [cause.cause for cause in page.causes]
        for name in rivals:
            best = best_check(name, rivals, knowledge)
            if best and len(rivals) > 1:
                check, outcome, apart = best
                mine = outcomes_of(name, check, knowledge)[outcome]
                theirs = [outcomes_of(rival, check, knowledge)[outcome] for rival in rivals if rival != name]
                assert apart == pytest.approx(mine - sum(theirs) / len(theirs))
                assert apart >= APART


def test_shares_of_outcomes_add_up(knowledge):
    for name in knowledge.causes:
        for check, entry in knowledge.checks.items():
            if entry.outcome:
                shares = outcomes_of(name, check, knowledge)
                assert sum(shares.values()) == pytest.approx(1)
                assert min(shares.values()) >= 0


def test_what_no_link_claims_is_the_normal_outcome(knowledge):
    shares = outcomes_of(IODIDE, "milky-on-dilution", knowledge)
    link = next(link for link in knowledge.causes[IODIDE].check if link.check == "milky-on-dilution")
    assert shares[link.outcome] == pytest.approx(knowledge.strengths.seen[link.seen])
    other = outcomes_of("holder-and-camera/movement", "milky-on-dilution", knowledge)
    normal = next(outcome.id for outcome in knowledge.checks["milky-on-dilution"].outcome if outcome.normal)
    assert other[normal] == 1


def test_partings_say_the_same_from_both_sides(cause_pages, knowledge):
    for name, page in cause_pages.items():
        for alike in page.look_alikes:
            here, there = partings(name, alike.cause, knowledge), partings(alike.cause, name, knowledge)
            assert {(part.kind, part.name, part.first, part.second) for part in here if part.kind == "check"} == {
                (part.kind, part.name, part.second, part.first) for part in there if part.kind == "check"
            }
            assert all(part.first != part.second for part in here), (name, alike.cause)


def test_every_look_alike_can_be_parted_or_says_why_not(cause_pages):
    for name, page in cause_pages.items():
        for alike in page.look_alikes:
            assert alike.alike or alike.apart, (name, alike.cause)
            assert alike.alike or alike.parted_by, (name, alike.cause)


def test_look_alikes_know_of_each_other(cause_pages):
    for name, page in cause_pages.items():
        for alike in page.look_alikes:
            back = {other.cause: other for other in cause_pages[alike.cause].look_alikes}
            assert name in back
            assert set(back[name].apart) == set(alike.apart)


def test_a_page_leaves_no_danger_out(cause_pages, knowledge):
    for name, page in cause_pages.items():
        wanted = {caution for doing in page.remedies for caution in knowledge.remedies[doing.remedy].caution}
        assert wanted <= set(page.cautions), name
        levels = [knowledge.cautions[caution].level for caution in page.cautions]
        assert levels == sorted(levels, key=lambda level: level != "danger")
        cyanide = any("cyanide" in line.name for step in page.chain.steps for line in step.chemistry)
        if cyanide:
            assert {"cyanide", "cyanide-and-acid"} <= set(page.cautions), name


def test_sources_are_told_in_full(cause_pages, knowledge):
    for page in cause_pages.values():
        said = cited(page.chain.sources, knowledge)
        assert len(said) == len(page.chain.sources)
    assert cited(("humphrey1857 p. 133",), knowledge)[0].endswith("1857, p. 133")
    assert cited(("judged",), knowledge) == (knowledge.sources["judged"].title,)


def test_every_neighbour_and_reaction_rests_on_a_source_or_a_mark(knowledge):
    for entry in knowledge.reactions.values():
        assert all(named.partition(" ")[0] in knowledge.sources for named in entry.from_)
    marked = [near for entry in knowledge.symptoms.values() for near in entry.beside if set(near.from_) <= MARKS]
    sourced = [near for entry in knowledge.symptoms.values() for near in entry.beside if not set(near.from_) <= MARKS]
    assert sourced
    assert marked


def test_a_stage_in_which_cyanide_may_stand_warns_of_it(cause_pages, knowledge):
    stages = knowledge.cautions["cyanide"].stages
    pages = [page for page in cause_pages.values() if page.chain.born in stages]
    assert pages
    assert all("cyanide" in page.cautions for page in pages)


def test_a_sign_seen_before_the_cause_is_born_does_not_count(knowledge):
    over = "development/over-developed"
    link = replace(knowledge.causes[over].symptom[0], first_seen=("coating", "fixing"))
    assert earliest_step(link, over, knowledge) == "fixing"
    assert earliest_step(replace(link, first_seen=("coating",)), over, knowledge) == "development"


def test_a_fact_that_speaks_for_both_parts_nothing(cause_pages, knowledge):
    shared = 0
    for name, page in cause_pages.items():
        for alike in page.look_alikes:
            tests = [{" and ".join(s.when) for s in knowledge.causes[one].likelier} for one in (name, alike.cause)]
            strong = [
                {" and ".join(s.when) for s in knowledge.causes[one].likelier if s.weight != "slightly"}
                for one in (name, alike.cause)
            ]
            shared += bool(strong[0] & strong[1])
            told = {part.name for part in partings(name, alike.cause, knowledge, most=99) if part.kind == "fact"}
            assert told <= tests[0] | tests[1]
            assert told == strong[0] ^ strong[1]
    assert shared
