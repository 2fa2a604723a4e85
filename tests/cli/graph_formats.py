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
of_library = sys.argv[3:] == ["library"]
most_paths_listed = 2000 if of_library else 20000
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


# Names of GraphML that JSON has under another, and what is joined there.
OTHER_NAMES = {"number": "step", "kind": "kind"}


def as_attribute(value):
    if isinstance(value, list):
        return "; ".join(f"{v['what']} {v['thing']}" + (f" / {v['other']}" if "other" in v else "") if isinstance(v, dict) else v for v in value)
    return value


def expected_attributes(node):
    told = {}
    for name, value in node.items():
        if name == "at" and value:
            told.update(source_file=value["file"], source_line=value["line"], source_column=value["column"])
        elif name not in ("id", "at") and as_attribute(value) not in ("", None):
            told[OTHER_NAMES.get(name, name)] = as_attribute(value)
    return told


def same_as_graphml(variant, source, folder):
    """Every node, edge and attribute of the JSON, with its type, and nothing else."""
    target = Path(folder) / "graph.graphml"
    only = ["--only", variant["name"]] if variant["name"] else []
    run("graph", source, "--as", "graphml", *only, "-o", target)
    read = networkx.read_graphml(target, force_multigraph=True)
    expect(set(read.nodes) == {node["id"] for node in variant["nodes"]}, "GraphML holds the same nodes")
    ours = sorted((e["from"], e["to"], e["id"], e["kind"], e.get("condition", ""), e.get("asks", ""), e.get("order", 0)) for e in variant["edges"])
    theirs = sorted((a, b, key, d["edge_kind"], d.get("condition", ""), d.get("asks", ""), d.get("order", 0)) for a, b, key, d in read.edges(keys=True, data=True))
    expect(ours == theirs, "GraphML holds the same edges with their conditions")
    for node in variant["nodes"]:
        data, told = dict(read.nodes[node["id"]]), expected_attributes(node)
        expect(data == told, f"{node['id']}: {data} is {told}")
        expect(all(type(data[k]) is type(told[k]) for k in told), f"{node['id']}: booleans are booleans and numbers are numbers")
    algorithms_agree(variant, read)


def algorithms_agree(variant, read):
    """networkx counts the ways again, finds the longest, and the nodes that dominate a normal ending."""
    plain = networkx.DiGraph()
    plain.add_nodes_from(read.nodes)
    several = {}
    for a, b, d in read.edges(data=True):
        if d["edge_kind"] not in ("again", "strikes"):
            plain.add_edge(a, b)
            several[a, b] = several.get((a, b), 0) + 1
    expect(networkx.is_directed_acyclic_graph(plain), "without going round again there is no cycle")
    struck = networkx.descendants(networkx.DiGraph(read), "start") | {"start"}
    expect(struck == set(read.nodes), "every node is reached from the start")
    order = list(networkx.topological_sort(plain))
    steps = {n: int(read.nodes[n]["kind"] == "step") for n in read}
    ways, longest = {"start": 1}, {"start": 0}
    for n in order:
        for b in plain.successors(n):
            if n in ways:
                ways[b] = ways.get(b, 0) + ways[n] * several[n, b]
                longest[b] = max(longest.get(b, 0), longest[n] + steps[b])
    ends = [n for n in ways if plain.out_degree(n) == 0]
    counted = sum(ways[n] for n in ends)
    expect(abs(counted - variant["ways"]) <= counted * 1e-12, f"{counted} ways, {variant['ways']} told")
    expect(max(longest[n] for n in ends) == variant["longest"], "the longest way has as many steps")
    if counted <= most_paths_listed and all(count == 1 for count in several.values()):
        paths = [p for n in ends for p in networkx.all_simple_paths(plain, "start", n)]
        expect(len(paths) == variant["ways"], "listed one by one, there are as many ways")
    normal = [n["id"] for n in variant["nodes"] if n["kind"] == "ending" and n["normal"] and n["id"] in ways]
    for n in normal:
        plain.add_edge(n, "any normal ending")
    told = {n["id"] for n in variant["nodes"] if n["on_every_way"]}
    found = set()
    if normal:
        above = networkx.immediate_dominators(plain, "start")
        at = above["any normal ending"]
        while at not in found:
            found.add(at)
            at = above[at]
    expect(told == found, f"dominators: {sorted(told ^ found)[:4]}")


def ids_outlive_new_words(source, folder):
    """Another title, another remark, other quoted words: the same ids."""
    before = json.loads(run("graph", source, "--as", "json"))
    text = source.read_text()
    expect(text.count('say "') > 3, "the example speaks")
    copy_beside(source, folder)
    reworded = Path(folder) / source.name
    reworded.write_text(text.replace('say "', 'say "Now then: ').replace('title       "', 'title       "Another title: '))
    after = json.loads(run("graph", reworded, "--as", "json"))
    expect(before != after, "the words did change")
    for old, new in zip(before["variants"], after["variants"]):
        expect([n["id"] for n in old["nodes"]] == [n["id"] for n in new["nodes"]], "ids outlive new words")


def copy_beside(source, folder):
    for other in source.parent.glob("*.ward"):
        (Path(folder) / other.name).write_text(other.read_text())


def told_of(node):
    """What a node says for itself: not where it stands, nor what moves with the numbers."""
    return {k: v for k, v in node.items() if k not in ("at", "number", "on_every_way")}


def ids_outlive_moves(source, folder):
    """Lines and questions put in front, a phase moved: whatever was not touched keeps its id."""
    copy_beside(source, folder)
    text = source.read_text()
    moved = Path(folder) / source.name
    before = json.loads(run("graph", source, "--as", "json"))["variants"][0]
    first = 'phase "Apron"\n'
    expect(text.count(first) == 1, "the example has a phase Apron")
    added = first + '  act "Breathe out slowly."\n  observer inspects cloth hood for soil\n  if soil on cloth hood\n    act "Stand still."\n  end if\n'
    moved.write_text(text.replace(first, added))
    after = json.loads(run("graph", moved, "--as", "json"))["variants"][0]
    nodes = {n["id"]: told_of(n) for n in after["nodes"]}
    edges = {e["id"] for e in after["edges"]}
    expect(len(nodes) == len(before["nodes"]) + 4, "two lines, a question and its line are new")
    for node in before["nodes"]:
        expect(nodes.get(node["id"]) == told_of(node), f"{node['id']} is still called so")
    expect({e["id"] for e in before["edges"]} <= edges, "edges are still called so")
    eyes, hood, suit = (text.index(f'phase "{name}"') for name in ("Eyes", "Hood", "Suit"))
    moved.write_text(text[:eyes] + text[hood:suit] + text[eyes:hood] + text[suit:])
    after = json.loads(run("graph", moved, "--as", "json"))["variants"][0]
    expect({n["id"] for n in after["nodes"]} == {n["id"] for n in before["nodes"]}, "a phase that moves takes its ids along")
    expect([n["id"] for n in after["nodes"]] != [n["id"] for n in before["nodes"]], "it did move")


def ways_that_no_run_takes(source):
    """--walk goes through every run: each of its moves is an edge (else the program ends with a fault), and what no run
    takes is marked. Taken edges make a path from the start; an edge behind a node that no run comes to is not taken."""
    graph = json.loads(run("graph", source, "--as", "json", "--walk"))
    validate(graph, "walked")
    for variant in graph["variants"]:
        expect(all("taken" in e for e in variant["edges"]), "every edge is marked")
        taken = [e for e in variant["edges"] if e["taken"]]
        walked = networkx.DiGraph((e["from"], e["to"]) for e in taken)
        reached = networkx.descendants(walked, "start") | {"start"}
        expect({e["from"] for e in taken} <= reached, "what is taken is come to by what is taken")
        never = [e for e in variant["edges"] if not e["taken"]]
        expect(0 < len(never) < len(taken), "the example has ways that no run takes, and most are taken")
        for edge in never:
            leaves = [e for e in variant["edges"] if e["from"] == edge["from"]]
            expect(edge["from"] not in reached or any(e["taken"] for e in leaves), f"{edge['from']} is left by some way")


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


def library_read_back(folder):
    """The first and the last variant of every protocol of the library: read back, counted again, and walked. A run of edges from
    the start to each node that is come to is a path that the graph has, since taken edges are edges; what is taken is come
    to by what is taken."""
    never = checked = 0
    for source in sorted((tree / "stdlib-procedures/protocols").glob("*.ward")):
        if not source.read_text().startswith("stepward 1 protocol"):
            continue
        graph = json.loads(run("graph", source, "--walk"))
        validate(graph, source.name)
        for variant in graph["variants"]:
            expect(all("taken" in e for e in variant["edges"]), f"{source.name}: every edge is marked")
            taken = networkx.DiGraph((e["from"], e["to"]) for e in variant["edges"] if e["taken"])
            reached = networkx.descendants(taken, "start") | {"start"}
            expect(set(taken.nodes) == reached, f"{source.name}: what is taken is come to by what is taken")
            ends = {n["id"] for n in variant["nodes"] if n["kind"] == "ending" and n["normal"]}
            expect(ends & reached, f"{source.name}: some run comes to a normal ending")
            for edge in variant["edges"]:
                if not edge["taken"]:
                    never += 1
                    others = [e for e in variant["edges"] if e["from"] == edge["from"] and e["taken"]]
                    expect(edge["from"] not in reached or others, f"{source.name}: {edge['from']} is left by some way")
        plain = json.loads(run("graph", source))["variants"]
        for variant in [plain[0]] + plain[1:][-1:]:
            same_as_graphml(variant, source, folder)
            checked += 1
    expect(checked > 25 and never > 0, "the library has protocols, and some of their ways are never taken")
    print(checked, "variants of the library read back,", never, "edges never taken")


with tempfile.TemporaryDirectory() as temporary:
    if of_library:
        library_read_back(temporary)
        raise SystemExit
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
    ids_outlive_moves(tree / "examples/aldermoss-exit.ward", temporary)
    ways_that_no_run_takes(tree / "examples/aldermoss-exit.ward")
    expect(any(n.get("contact_seconds") for n in steps), "contact times are given")
    expect(any(n["rules"] for n in steps), "rules are given where a step can break them")
    expect(any(e["what"] == "meets" for n in steps for e in n["effects"]), "effects are given")
    print(checked, "variants read back")
