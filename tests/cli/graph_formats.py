"""Reads the graphs back with software that knows nothing of this project.

The JSON is validated against its published schema; the GraphML is read by networkx and must hold the same nodes, edges
and attributes as the JSON of the same variant.
"""
import json
import subprocess
import sys
import tempfile
from pathlib import Path

import jsonschema
import networkx

program, tree = sys.argv[1], Path(sys.argv[2])
schema = json.loads((tree / "docs/outputs/graph.schema.json").read_text())
jsonschema.Draft202012Validator.check_schema(schema)
validator = jsonschema.Draft202012Validator(schema)


def run(*arguments):
    return subprocess.run([program, *map(str, arguments)], check=True, capture_output=True, text=True).stdout


def expect(truth, what):
    if not truth:
        raise SystemExit(f"NOT AS EXPECTED: {what}")


def validate(graph, what):
    mistakes = list(validator.iter_errors(graph))
    for mistake in mistakes[:5]:
        print(what, "at", "/".join(map(str, mistake.absolute_path)), mistake.message[:300])
    expect(not mistakes, f"{what} follows the schema")


def schema_is_strict(graph):
    """A schema that lets everything through would prove nothing."""
    for spoil in (
        lambda g: g.pop("zones"),
        lambda g: g["variants"][0]["nodes"][1].pop("id"),
        lambda g: g["variants"][0]["nodes"][1].update(kind="leap"),
        lambda g: g["variants"][0]["nodes"][1].update(colour="green"),
        lambda g: g["variants"][0]["edges"][0].update(order=0),
        lambda g: next(n for n in g["variants"][0]["nodes"] if n["kind"] == "step").pop("who"),
    ):
        spoilt = json.loads(json.dumps(graph))
        spoil(spoilt)
        expect(not validator.is_valid(spoilt), "a spoilt graph is refused")


def whole(variant):
    ids = [node["id"] for node in variant["nodes"]]
    expect(len(ids) == len(set(ids)), "ids are unique")
    for edge in variant["edges"]:
        expect(edge["from"] in ids and edge["to"] in ids, f"edge {edge['id']} joins nodes")
    kinds = {node["kind"] for node in variant["nodes"]}
    expect({"start", "step", "question", "ending"} <= kinds, "the example has all kinds of nodes")
    for node in variant["nodes"]:
        leaves = [edge for edge in variant["edges"] if edge["from"] == node["id"]]
        expect(bool(leaves) == (node["kind"] not in ("ending", "resume", "loose_end")), f"{node['id']} leads on, or is an end")
        if node["kind"] == "question":
            expect(sum(edge["kind"] == "otherwise" for edge in leaves) == 1, f"{node['id']} has one way for every other answer")


def same_as_graphml(variant, source, folder):
    target = Path(folder) / "graph.graphml"
    run("graph", source, "--as", "graphml", "--only", variant["name"], "-o", target)
    read = networkx.read_graphml(target, force_multigraph=True)
    expect(set(read.nodes) == {node["id"] for node in variant["nodes"]}, "GraphML holds the same nodes")
    ours = sorted((e["from"], e["to"], e["kind"], e.get("condition", ""), e.get("order", 0)) for e in variant["edges"])
    theirs = sorted((a, b, d["edge_kind"], d.get("condition", ""), d.get("order", 0)) for a, b, d in read.edges(data=True))
    expect(ours == theirs, "GraphML holds the same edges with their conditions")
    for node in variant["nodes"]:
        data = read.nodes[node["id"]]
        expect(data["kind"] == node["kind"] and data.get("text", "") == node["text"], f"{node['id']} says the same in both")
        if node["kind"] == "step":
            expect(isinstance(data["critical"], bool) and data["critical"] == node["critical"], "booleans are booleans")
            expect(data.get("contact_seconds", 0) == node.get("contact_seconds", 0), "numbers are numbers")
            expect(data["who"] == node["who"] and data["verb"] == node["verb"], f"{node['id']} is done by the same person")


def ids_outlive_new_words(source, folder):
    """Another title, another remark, other quoted words: the same ids."""
    before = json.loads(run("graph", source, "--as", "json"))
    text = source.read_text()
    expect(text.count('say "') > 3, "the example speaks")
    for other in source.parent.glob("*.ward"):
        (Path(folder) / other.name).write_text(other.read_text())
    reworded = Path(folder) / source.name
    reworded.write_text(text.replace('say "', 'say "Now then: ').replace('title       "', 'title       "Another title: '))
    after = json.loads(run("graph", reworded, "--as", "json"))
    expect(before != after, "the words did change")
    for old, new in zip(before["variants"], after["variants"]):
        expect([n["id"] for n in old["nodes"]] == [n["id"] for n in new["nodes"]], "ids outlive new words")


TWO_AT_ONCE = '''stepward 1 protocol
document
  title   "Tidy up"
  number  ASH-01
  version 1.0
end document
use library standard "team"
people
  wearer begins in exit area
  helper begins in exit area
  helper ends dressed
  wearer acts unless a line names someone else
end people
endings
  clean exit is normal
end endings
phase "Tidy up"
  start timer round at most 5 minutes
  together
    act "Shake the mat."
    act "Roll the mat up."
    helper acts "Open the window."
    helper acts "Close the window."
  end together
  stop timer round
  finish as clean exit
end phase
'''


def two_at_once(folder):
    """Each line of the two is there once, says that the order is none, and the ending is still reached."""
    source = Path(folder) / "two.ward"
    source.write_text(TWO_AT_ONCE)
    graph = json.loads(run("graph", source, "--as", "json"))
    validate(graph, "two at once")
    variant = graph["variants"][0]
    steps = [node for node in variant["nodes"] if node["kind"] == "step"]
    expect([n["verb"] for n in steps] == ["start timer", "act", "act", "act", "act", "stop timer"], "every line once, in reading order")
    expect([n.get("at_once", 0) for n in steps] == [0, 1, 1, 1, 1, 0], "the four say that they are done at once")
    walked = networkx.DiGraph((edge["from"], edge["to"]) for edge in variant["edges"])
    endings = [node["id"] for node in variant["nodes"] if node["kind"] == "ending"]
    expect(len(endings) == 1 and networkx.has_path(walked, "start", endings[0]), "the ending is reached")
    expect(networkx.is_directed_acyclic_graph(walked), "nothing goes round")
    same_as_graphml(variant, source, folder)


with tempfile.TemporaryDirectory() as temporary:
    two_at_once(temporary)
    checked = 0
    steps = []
    for name in ("aldermoss-exit.ward", "aldermoss-entry.ward"):
        example = tree / "examples" / name
        graph = json.loads(run("graph", example, "--as", "json"))
        validate(graph, name)
        schema_is_strict(graph)
        for one in graph["variants"]:
            whole(one)
            same_as_graphml(one, example, temporary)
            checked += 1
            steps += [node for node in one["nodes"] if node["kind"] == "step"]
        ids_outlive_new_words(example, temporary)
    expect(any(n.get("contact_seconds") for n in steps), "contact times are given")
    expect(any(n["rules"] for n in steps), "rules are given where a step can break them")
    expect(any(e["what"] == "meets" for n in steps for e in n["effects"]), "effects are given")
    print(checked, "variants read back")
