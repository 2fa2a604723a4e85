"""Writes every format of the example and of every protocol of the library, and has each read by software that knows nothing
of this project.

  formats_test.py PROGRAM TREE FOLDER NODE-MODULES NODE

FOLDER is a folder of one's own. Beside validate.mjs, which runs on Node:
  BPMN     the XSD of OMG (in npm bpmn-moddle), by xmllint
  SVG      well-formed XML by xmllint; title, description and texts are there; no two shapes of a band overlap
  DOT      read by Graphviz itself; the same numbers of shapes and ways as the chart
"""
import json
import re
import subprocess
import sys
import time
import xml.etree.ElementTree as ET
from pathlib import Path

program, tree, folder, modules, node = sys.argv[1], Path(sys.argv[2]), Path(sys.argv[3]), Path(sys.argv[4]), sys.argv[5]
SVG = "{http://www.w3.org/2000/svg}"
ENDINGS = {"json": ".graph.json", "graphml": ".graphml", "dot": ".dot", "svg": ".svg", "bpmn": ".bpmn", "fhir": ".fhir.json"}


def expect(truth, what):
    if not truth:
        raise SystemExit(f"NOT AS EXPECTED: {what}")


def run(*arguments):
    done = subprocess.run([str(a) for a in arguments], capture_output=True, text=True)
    expect(done.returncode == 0, f"{' '.join(map(str, arguments))[:300]} gives {done.returncode}: {done.stderr[:600]}{done.stdout[:600]}")
    return done.stdout


def protocols():
    yield from sorted((tree / "examples").glob("aldermoss-e*.ward"))
    yield from sorted((tree / "stdlib-procedures/protocols").glob("*.ward"))


def is_protocol(path):
    return path.read_text().startswith("stepward 1 protocol")


def write_all():
    written = []
    for source in filter(is_protocol, protocols()):
        for name, ending in ENDINGS.items():
            target = folder / (source.stem + ending)
            run(program, "graph", source, "--as", name, "-o", target)
            written.append(target)
    return written


def same_bytes_again(written):
    """Two runs give the same bytes, also where boxes are placed."""
    for name in ("svg", "bpmn"):
        source = tree / "examples/aldermoss-exit.ward"
        first = (folder / (source.stem + ENDINGS[name])).read_text()
        expect(run(program, "graph", source, "--as", name) == first, f"{name} has the same bytes again")


def svg_file(path):
    run("xmllint", "--noout", path)
    root = ET.parse(path).getroot()
    expect(root.tag == SVG + "svg" and root.get("role") == "img" and root.get("lang"), f"{path.name} is a picture with a language")
    ids = {e.get("id") for e in root.iter() if e.get("id")}
    expect(set(root.get("aria-labelledby").split()) <= ids, f"{path.name} has the title and description that it names")
    expect(len(root.find(SVG + "title").text) > 5 and len(root.find(SVG + "desc").text) > 20, f"{path.name} says what it shows")
    expect(len(ids) == sum(1 for e in root.iter() if e.get("id")), f"{path.name} has every id once")
    words = [e for e in root.iter(SVG + "text")]
    expect(len(words) > 10 and all(w.text and w.text.strip() for w in words), f"{path.name} has its texts as texts")
    no_overlap(path, root)


def no_overlap(path, root):
    boxes = []
    for group in root.iter(SVG + "g"):
        rect = group.find(SVG + "rect")
        if group.get("id") and rect is not None:
            boxes.append([float(rect.get(k)) for k in ("x", "y", "width", "height")])
    boxes.sort()
    for i, (x, y, w, h) in enumerate(boxes):
        for x2, y2, w2, h2 in boxes[i + 1:]:
            if x2 >= x + w:
                break
            expect(y2 >= y + h or y >= y2 + h2, f"{path.name}: shapes at {x},{y} and {x2},{y2} overlap")


def dot_file(path):
    """Graphviz answers a graph that it cannot read with an error; what it read it counts itself."""
    plain = run("gvpr", "N{$G;} END_G{print(nNodes($G), \" \", nEdges($G));}", path)
    counts = [tuple(map(int, line.split())) for line in plain.split("\n") if line.strip()]
    graph = json.loads(path.with_name(path.name.replace(".dot", ".graph.json")).read_text())
    expect(len(counts) == len(graph["variants"]), f"{path.name} has a digraph for each variant")
    expect(all(nodes > 4 and edges >= nodes - 40 for nodes, edges in counts), f"{path.name} has shapes and ways")


def numbers_are_the_cards(source_stem):
    """Every number of the step graph stands in the chart, and the other way round."""
    graph = json.loads((folder / f"{source_stem}.graph.json").read_text())
    charts = ET.parse(folder / f"{source_stem}.svg").getroot()
    shown = set()
    for text in charts.iter(SVG + "text"):
        if text.get("class") == "b":
            shown.add(text.text.split(" ")[0])
    numbers = {n["number"] for v in graph["variants"] for n in v["nodes"] if n["kind"] == "step"}
    expect(numbers <= shown, f"{source_stem}: missing on the chart: {sorted(numbers - shown)[:5]}")


folder.mkdir(parents=True, exist_ok=True)
for old in folder.glob("*"):
    old.unlink()
begun = time.time()
written = write_all()
print(f"{len(written)} files written in {time.time() - begun:.1f} s")
expect(len(written) > 100, "the library has protocols")
same_bytes_again(written)
xsd = modules / "node_modules/bpmn-moddle/resources/bpmn/xsd/BPMN20.xsd"
bpmn = sorted(folder.glob("*.bpmn"))
run("xmllint", "--nonet", "--noout", "--schema", xsd, *bpmn)
spoilt = folder / "spoilt.xml"
spoilt.write_text(re.sub("<bpmn:exclusiveGateway", "<bpmn:question", bpmn[0].read_text(), count=1).replace("</bpmn:exclusiveGateway", "</bpmn:question", 1))
expect(subprocess.run(["xmllint", "--nonet", "--noout", "--schema", str(xsd), str(spoilt)], capture_output=True).returncode != 0, "a spoilt file is refused")
for path in sorted(folder.glob("*.svg")):
    svg_file(path)
for path in sorted(folder.glob("*.dot")):
    dot_file(path)
for source in filter(is_protocol, protocols()):
    numbers_are_the_cards(source.stem)
print(run(node, modules / "validate.mjs", folder, tree / "docs/outputs/graph.schema.json"))
