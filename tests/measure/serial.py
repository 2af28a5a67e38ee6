"""Days of plates taken together, against plate by plate: is the standing cause found, and the plate where it came on?"""

import math
import random
import time
from collections import Counter
from dataclasses import replace
from statistics import fmean

from diagnose.reasoning import serial_chain
from diagnose.reasoning.serial import ahead, weigh_day
from diagnose.reasoning.weighing import weigh
from tests.measure import figures
from tests.measure.ready import plain_craft
from tests.measure.sessions import FEWEST, MOST, SLIPS, draw_session, shown
from tests.measure.tables import between, table

DAYS = 300
ALARM = 0.5  # a cause this likely is named
FLOOR = 1e-6
LENGTHS = (1, 12, 30, 60, 120, 240)  # plates of the days whose weighing is timed
WAYS = {
    "85 % told, 30 % denied; facts about the day told": {},
    "85 % told, 30 % denied; nothing of the day": {"day_told": False},
    "told as it strikes the eye, nothing denied; facts told": {"by_notice": True},
    "told as it strikes the eye, nothing denied; nothing of the day": {"by_notice": True, "day_told": False},
    "as the first, but onset on any plate, be it the last": {"late": True},
}


def run(knowledge, plates, seed):
    craft = plain_craft(knowledge)
    number = plates or DAYS
    kept = {}
    for words, way in WAYS.items():
        rng = random.Random(seed)
        days = [draw_session(rng, craft, **way) for _ in range(number)]
        empty = [draw_session(rng, craft, standing=False, **way) for _ in range(max(1, number // 3))]
        kept[words] = days
        report(words, days, empty, craft, seed)
    as_drawn(kept, craft)
    speed(craft, seed, LENGTHS if number >= DAYS else LENGTHS[:2])


class Answer:
    """One way of answering a day: standing causes in order, and for the true one the plate where it came on."""

    def __init__(self, chances, onset, session, knowledge):
        self.chances = chances
        self.ranked = sorted(chances, key=lambda cause: (-chances[cause], cause))
        self.session = session
        self.rank = self.ranked.index(session.cause) + 1 if session.cause else 0
        self.off = abs(onset - session.onset) if session.cause else math.nan
        first, causes = self.ranked[0], knowledge.causes
        if session.cause:
            self.thing = causes[first].stands_in == causes[session.cause].stands_in
            self.alike = first == session.cause or any(
                other.cause == one
                for one, entry in ((first, causes[session.cause]), (session.cause, causes[first]))
                for other in entry.treat_alike
            )
            self.remedy = causes[first].remedy[0].do in {link.do for link in causes[session.cause].remedy}

    @property
    def loss(self):
        """Bits lost on all standing causes together."""
        return -sum(
            math.log2(max(FLOOR, chance if cause == self.session.cause else 1 - chance))
            for cause, chance in self.chances.items()
        )


def together(session, craft):
    """The whole day at once."""
    belief = weigh_day(shown(session, craft), (), craft)
    chances = {item.cause: item.at_work for item in belief.standing}
    onset = next((item.likely_onset for item in belief.standing if item.cause == session.cause), 0)
    return Answer(chances, onset, session, craft.knowledge)


def plate_by_plate(session, craft):
    """Two answers from plates taken one by one: the last spoiled plate alone, and the mean over all spoiled plates.

    The true cause is taken to have come on at the first plate where it leads the standing causes; else where it is likeliest.
    """
    standing = [name for name, entry in craft.knowledge.causes.items() if entry.scope == "standing"]
    single = [None if plate.good else weigh(plate.evidence, craft).causes for plate in shown(session, craft)]
    spoiled = [chances for chances in single if chances is not None] or [dict.fromkeys(standing, 0.0)]
    mean = {cause: fmean(chances[cause] for chances in spoiled) for cause in standing}
    leading = [n for n, x in enumerate(single) if x and max(standing, key=x.__getitem__) == session.cause]
    likeliest = max(range(len(single)), key=lambda n: single[n][session.cause] if single[n] and session.cause else -1)
    onset = leading[0] if leading else likeliest
    last = {cause: spoiled[-1][cause] for cause in standing}
    return Answer(last, onset, session, craft.knowledge), Answer(mean, onset, session, craft.knowledge)


def report(words, days, empty, craft, seed):
    started = time.process_time()
    whole = [together(session, craft) for session in days]
    seconds = (time.process_time() - started) / len(days)
    alarms = [together(session, craft) for session in empty]
    singles = [plate_by_plate(session, craft) for session in days]
    quiet = [plate_by_plate(session, craft) for session in empty]
    rows = [
        line("the day together", whole, alarms, seed),
        line("last plate alone", [last for last, _ in singles], [last for last, _ in quiet], seed),
        line("mean of plates", [mean for _, mean in singles], [mean for _, mean in quiet], seed),
    ]
    good = fmean(facts is None for session in days for facts in session.facts)
    head = ("", "top-1", "top-3", "or treated alike", "right thing", "its remedy", "onset exact", "within one")
    table(
        f"serial: {words}; {len(days)} days, {good:.0%} of plates called good, {1000 * seconds:.0f} ms a day",
        (*head, "missed", "false alarms a day", "bits lost"),
        rows,
    )
    claim = fmean(answer.chances[answer.ranked[0]] for answer in whole)
    print(f"the first one's own probability, mean: {claim:.3f}")
    by_thing(whole, craft.knowledge)
    confused(whole)


def line(words, answers, alarms, seed):
    def share(test):
        return fmean(map(test, answers))

    hits = [answer.rank == 1 for answer in answers]
    return (
        words,
        between(fmean(hits), figures.interval(hits, fmean, seed)),
        share(lambda a: a.rank <= 3),
        share(lambda a: a.alike),
        share(lambda a: a.thing),
        share(lambda a: a.remedy),
        share(lambda a: a.off == 0),
        between(share(lambda a: a.off <= 1), figures.interval([a.off <= 1 for a in answers], fmean, seed)),
        share(lambda a: a.chances[a.session.cause] < ALARM),
        fmean(sum(chance >= ALARM for chance in a.chances.values()) for a in alarms),
        share(lambda a: a.loss),
    )


def by_thing(answers, knowledge):
    things = {}
    for answer in answers:
        things.setdefault(knowledge.causes[answer.session.cause].stands_in, []).append(answer)
    table(
        "by the thing it stands in",
        ("", "days", "top-1", "top-3", "right thing", "onset within one"),
        [
            (
                thing,
                len(part),
                fmean(a.rank == 1 for a in part),
                fmean(a.rank <= 3 for a in part),
                fmean(a.thing for a in part),
                fmean(a.off <= 1 for a in part),
            )
            for thing, part in sorted(things.items(), key=lambda item: -len(item[1]))
        ],
    )


def confused(answers):
    taken = Counter((a.session.cause, a.ranked[0]) for a in answers if a.rank > 1)
    print("taken for another:", "; ".join(f"{x} for {y} ({n})" for (x, y), n in taken.most_common(12)) or "none")


def as_drawn(kept, craft):
    """The ceiling: the same days weighed with the very rates they were drawn with."""
    base = {
        cause: odds * (1 if craft.knowledge.causes[cause].scope == "standing" else SLIPS)
        for cause, odds in craft.model.base.items()
    }
    knowing = replace(craft, model=craft.model._replace(base=base))
    usual = serial_chain.START_SHARE, serial_chain.PLATE_SHARE
    mean = (FEWEST + MOST) / 2
    rows = []
    for words, days in kept.items():
        if words not in HARDEST:
            continue
        plain = [together(session, craft) for session in days]
        serial_chain.START_SHARE = serial_chain.PLATE_SHARE = 1 / mean
        try:
            found = [together(session, knowing) for session in days]
        finally:
            serial_chain.START_SHARE, serial_chain.PLATE_SHARE = usual
        rows += [
            (name, *(fmean(map(test, answers)) for test in TESTS))
            for name, answers in ((words, plain), ("... knowing the rates they were drawn with", found))
        ]
    table(
        "serial, the ceiling: what knowing the true rates would add", ("", "top-1", "onset exact", "within one"), rows
    )


HARDEST = tuple(words for words, way in WAYS.items() if "day_told" in way)
TESTS = (lambda a: a.rank == 1, lambda a: a.off == 0, lambda a: a.off <= 1)


def speed(craft, seed, lengths):
    """Spoiled plates only, and of unlike days, so that many causes stay possible: the hardest there is."""
    rng = random.Random(seed)
    rows = []
    for count in lengths:
        times = {"gather": [], "weigh": [], "ahead": []}
        for _ in range(5):
            facts = []
            while len(facts) < count:
                facts += [told for told in draw_session(rng, craft).facts if told]
            session = draw_session(rng, craft)._replace(facts=tuple(facts[:count]))
            start = time.process_time()
            day = shown(session, craft)
            times["gather"].append(time.process_time() - start)
            start = time.process_time()
            weigh_day(day, (), craft)
            times["weigh"].append(time.process_time() - start)
            start = time.process_time()
            ahead(day[:10], (), {}, craft)
            times["ahead"].append(time.process_time() - start)
        whole = [g + w for g, w in zip(times["gather"], times["weigh"], strict=True)]
        rows.append(
            (
                f"{count} spoiled plates",
                *(1000 * fmean(times[part]) for part in times),
                1000 * max(whole),
                1000 * fmean(whole) / count,
            )
        )
    table(
        "seconds of the processor, unlike days strung together",
        ("", "evidence ms", "weighing ms", "ahead ms", "worst ms in all", "ms a plate"),
        rows,
    )
