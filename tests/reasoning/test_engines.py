"""Where durable-rules cannot be loaded the plain engine takes over, says so in one line, and nothing else changes."""

import json
import os
import subprocess
import sys
import textwrap

import pytest

from diagnose.reasoning.chaining import Rule
from diagnose.reasoning.engines import best_chainer

MISSING = """
import sys
sys.modules["durable_rules_engine"] = None
"""
# What Python 3.13 says of a module built without the flag in the README; a long path and a second line must not be shown.
BROKEN = """
import sys

class Broken:
    def find_spec(self, name, path=None, target=None):
        if name == "durable_rules_engine":
            raise ImportError("undefined symbol: PyEval_CallObject in " + "folder/" * 60 + "\\nanother line")

sys.meta_path.insert(0, Broken())
"""
SILENT = """
import sys

class Silent:
    def find_spec(self, name, path=None, target=None):
        if name == "durable_rules_engine":
            raise ImportError

sys.meta_path.insert(0, Silent())
"""
DIAGNOSE = """
import json
from diagnose import Plate, read_knowledge
from diagnose.facts import understand
from diagnose.reasoning.craft import craft_of
from diagnose.reasoning.weighing import fire, gather, weigh

craft = craft_of(read_knowledge())
results = []
for told in (
    {},
    {"symptoms": {"thin-blue-film": True}, "conditions": {"bath_strength": "42 g/L", "sensitising_time": "4 min"}},
    {"symptoms": {"comets": True, "dark-picture": "unsure"}, "conditions": {"room_temperature": "30 °C"}},
    {"symptoms": {"drying-marks": {"place": "upper-part"}}, "conditions": {"wait_before_developer": "13 min"}},
):
    facts = understand(Plate.read(told), craft.knowledge)
    firing = fire(facts, craft)
    posterior = weigh(gather(facts, firing, craft), craft)
    results.append([[rule.name for rule in firing.trace], sorted(firing.facts), posterior.causes, posterior.leaks])
print(json.dumps({"engine": firing.engine, "notice": craft.notice, "results": results}))
"""


def child(script):
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", script],
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
        env={**os.environ, "PYTHONUTF8": "1"},
    )
    assert done.returncode == 0, done.stderr
    assert not done.stderr
    return json.loads(done.stdout)


def test_durable_rules_is_chosen_where_it_loads_and_nothing_is_announced():
    pytest.importorskip("durable_rules_engine")
    engine, notice = best_chainer([Rule("rule", ("a",), "b")])
    assert engine.engine == "durable-rules"
    assert notice == ""
    assert engine.run(["a"]).engine == "durable-rules"


@pytest.mark.parametrize(
    ("barred", "why"),
    [
        (MISSING, "durable_rules_engine"),
        (BROKEN, "undefined symbol: PyEval_CallObject"),
        (SILENT, "not installed"),
    ],
    ids=["not there", "built for another Python", "without a reason"],
)
def test_the_plain_engine_takes_over_is_announced_and_finds_the_same(barred, why):
    usual, instead = child(DIAGNOSE), child(barred + textwrap.dedent(DIAGNOSE))
    assert instead["engine"] == "plain Python"
    assert why in instead["notice"]
    assert instead["notice"].startswith("durable-rules cannot be loaded here")
    assert "plain Python engine" in instead["notice"]
    assert "README" in instead["notice"]
    assert "\n" not in instead["notice"]
    assert len(instead["notice"]) < 320
    assert instead["results"] == usual["results"]
    if usual["engine"] == "durable-rules":
        assert usual["notice"] == ""


def test_an_error_other_than_not_loading_is_not_hidden():
    """A rule set too large for durable-rules must be told, not quietly given to the other engine."""
    pytest.importorskip("durable_rules_engine")
    from diagnose.errors import LimitError

    with pytest.raises(LimitError):
        best_chainer([Rule("wide", tuple(map(str, range(13))))])
