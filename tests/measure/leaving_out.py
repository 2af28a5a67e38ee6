"""The knowledge as if one author had never been read.

What cannot be taken back: that a symptom or a cause has an entry at all, the words it is called by, the strengths, and looks
stated on a link that two authors share.
"""

from dataclasses import replace

from tests.measure.ready import LINKS


def key_of(words):
    """The short key of the source a link names: "vogel_lehrbuch p. 319" -> "vogel_lehrbuch"."""
    return words.split()[0]


def authors_of(source, key):
    """Who wrote a source, as far as it says; several people writing in one journal are the journal."""
    author = source.author.partition("(")[0].strip()
    if author.startswith("various"):
        return {source.title}
    people = {person.partition(",")[0].strip() for person in author.split(" and ")}
    return {person for person in people if person} or {key}


def families(knowledge):
    """For each source, all sources that share an author with it, itself among them."""
    marks = marks_of(knowledge)
    authors = {key: authors_of(source, key) for key, source in knowledge.sources.items() if key not in marks}
    family = {key: {key} for key in authors}
    changed = True
    while changed:
        changed = False
        for key, own in authors.items():
            for other, theirs in authors.items():
                if own & theirs and family[key] != family[other]:
                    family[key] = family[other] = family[key] | family[other]
                    changed = True
    return {key: frozenset(members) for key, members in family.items()}


def marks_of(knowledge):
    """The keys that name no source: common practice, judged, from memory."""
    return {key for key, source in knowledge.sources.items() if source.kind == "mark"}


def without(knowledge, keys, *, strict=False):
    """The knowledge without some sources.

    Args:
        keys: short keys of the sources to take out
        strict: a link that rested on them goes even if a mark such as "judged" stands beside them, and what only they
            say of states goes too
    """
    marks = marks_of(knowledge)

    def kept(items):
        return tuple(rest for rest in (_left(item, keys, marks, strict=strict) for item in items) if rest is not None)

    causes = {
        name: replace(cause, **{field: kept(getattr(cause, field)) for field in LINKS})
        for name, cause in knowledge.causes.items()
    }
    states = knowledge.states
    if strict:
        states = {name: replace(state, way=kept(state.way)) for name, state in states.items()}
    return replace(knowledge, causes=causes, states=states, version=f"{knowledge.version}-{'-'.join(sorted(keys))}")


def _left(item, keys, marks, *, strict):
    rest = tuple(words for words in item.from_ if key_of(words) not in keys)
    if len(rest) == len(item.from_):
        return item
    if not rest or (strict and all(key_of(words) in marks for words in rest)):
        return None
    return replace(item, from_=rest)
