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
import shutil
import subprocess
import sys
import time
import xml.etree.ElementTree as ET
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
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
    wanted = [(source, name, folder / (source.stem + ending)) for source in filter(is_protocol, protocols()) for name, ending in ENDINGS.items()]
    with ThreadPoolExecutor(2) as pool:
        list(pool.map(lambda w: run(program, "graph", w[0], "--as", w[1], "-o", w[2]), wanted))
    return [target for _, _, target in wanted]


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
    expect(len(words) > 4 and all(w.text and w.text.strip() for w in words), f"{path.name} has its texts as texts")
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


def pages_of_charts():
    """Every protocol cut to A3: every number of every variant is on some page, nothing lies outside of the sheet, no shapes
    overlap, and every letter at which a way goes on stands there twice (and once more in the key)."""
    pages = folder / "pages"
    shutil.rmtree(pages, ignore_errors=True)
    count = 0
    for source in filter(is_protocol, protocols()):
        run(program, "graph", source, "--as", "svg", "--paper", "A3", "--to", pages / source.stem)
        charts = {}
        for path in sorted((pages / source.stem).glob("*.svg")):
            root = ET.parse(path).getroot()
            inside_the_sheet(path, root)
            no_overlap(path, root)
            charts.setdefault(path.stem.rsplit("-page-", 1)[0], []).extend(root.iter(SVG + "text"))
            count += 1
        variants = json.loads((folder / f"{source.stem}.graph.json").read_text())["variants"]
        expect(len(charts) == len(variants), f"{source.stem} has pages for each variant")
        shown = [{text.text.split(" ")[0] for text in texts if text.get("class") == "b"} for texts in charts.values()]
        for variant in variants:
            numbers = {n["number"] for n in variant["nodes"] if n["kind"] == "step"}
            expect(any(numbers <= those for those in shown), f"{source.stem}, {variant['name']}: every number is on some page")
        for name, texts in charts.items():
            letters = Counter(t.text for t in texts if t.get("class") == "b" and re.fullmatch("[a-z]{1,2}", t.text))
            odd = {letter: times for letter, times in letters.items() if times != (3 if letter == "a" else 2)}
            expect(not odd, f"{name}: letters without their other end: {odd}")
    return count


def inside_the_sheet(path, root):
    width, height = (float(n) for n in root.get("viewBox").split()[2:])
    for rect in root.iter(SVG + "rect"):
        x, y, w, h = (float(rect.get(k)) for k in ("x", "y", "width", "height"))
        expect(x >= 0 and y >= 0 and x + w <= width + 0.2 and y + h <= height + 0.2, f"{path.name}: a frame at {x},{y} lies outside of the sheet")


def dot_file(path):
    """Read by Graphviz, which tells what it read: a digraph for each variant with every number of its steps, and from
    every shape that is no end a way leads on."""
    read = run("gvpr", 'BEG_G{print("G")} N{print("N", $.outdegree, " ", $.shape, " ", $.style, " ", $.label)}', path)
    graph = json.loads(path.with_name(path.name.replace(".dot", ".graph.json")).read_text())
    charts = [chart.split("\n") for chart in re.split(r"(?m)^G\n", read)[1:]]
    expect(len(charts) == len(graph["variants"]), f"{path.name} has a digraph for each variant")
    for lines, variant in zip(charts, graph["variants"]):
        heads = {re.split(r" |\\n", line.split(" ", 3)[3])[0] for line in lines if line.startswith("N") and len(line.split(" ", 3)) == 4}
        numbers = {n["number"] for n in variant["nodes"] if n["kind"] == "step"}
        expect(numbers <= heads, f"{path.name}: no shape for {sorted(numbers - heads)[:4]}")
        ends = [line for line in lines if line.startswith("N0 ")]
        expect(ends and all("rounded" in line for line in ends), f"{path.name}: a way stops at {[l for l in ends if 'rounded' not in l][:2]}")


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


HEAD = """stepward 1 protocol
document
  title   "{title}"
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
"""


def phase(name, lines):
    return f'phase "{name}"\n' + "".join(f"  {line}\n" for line in lines) + "end phase\n"


def hard_sources():
    """What an exporter stumbles over: five thousand steps, any script, marks that XML and DOT use themselves, characters that
    XML forbids, names that differ in nothing that an id can hold, two people at once."""
    yield "long", HEAD.format(title="Five thousand") + phase("All of it", [f'act "Do thing number {i}."' for i in range(5000)] + ["finish as clean exit"])
    texts = ["هز السجادة", "把垫子卷起来然后放在墙边不要碰任何东西因为它是脏的", "Встряхните коврик", "चटाई को हिलाओ", "Shake & roll < 3 > 2 [now] {then} | ' % $ ` end.",
             "e\u0301" * 60, "Unbreakable" * 20, "\U0001F9E4 on"]
    yield "scripts", HEAD.format(title="كل الخطوط 全部") + phase("Мокрое", [f'act "{t}"' for t in texts]) + phase("干", [f'act "{t}"' for t in texts] + ["finish as clean exit"])
    yield "control", HEAD.format(title="Bell \x07 here") + phase("Con\x01trol", ['act "Do \x01\x1b it."', 'act "Tab\there."', "finish as clean exit"])
    twins = [phase(name, ['act "Shake."', 'act "Shake."']) for name in ("Wet!", "Wet?", "Wet", "(Wet)")]
    yield "twins", HEAD.format(title="Wet") + "".join(twins) + phase("Done", ["finish as clean exit"])
    yield "together", HEAD.format(title="At once") + phase("Both", ["together", '  act "Shake."', '  act "Roll."', '  helper acts "Open."', '  helper acts "Close."', "end together", "finish as clean exit"])
    words = " ".join(["exceedingly", "long", "words"] * 30)
    yield "wide", HEAD.format(title=words) + phase(words, [f'act "{words}"', "finish as clean exit"])


def write_hard():
    """Each is written and validated like any other, or refused with a finding: never a fault, never half a file."""
    refused = []
    for name, text in hard_sources():
        source = folder / f"{name}.ward"
        source.write_text(text)
        for form, ending in ENDINGS.items():
            target = folder / (f"hard-{name}" + ending)
            begun = time.time()
            done = subprocess.run([program, "graph", str(source), "--as", form, "-o", str(target)], capture_output=True, text=True)
            expect(done.returncode in (0, 1), f"{name} as {form} gives {done.returncode}: {done.stderr[:400]}")
            expect((done.returncode == 0) == target.exists(), f"{name} as {form}: a file, or none")
            expect(time.time() - begun < 60, f"{name} as {form} takes too long")
            if done.returncode == 1:
                expect("error" in done.stderr, f"{name} as {form} says why not")
                refused.append(name)
    expect(set(refused) <= {"control", "wide"}, f"refused: {sorted(set(refused))}")
    long = json.loads((folder / "hard-long.graph.json").read_text())
    expect(sum(n["kind"] == "step" for n in long["variants"][0]["nodes"]) == 5000, "no step of five thousand is lost")
    for form, mark in {"svg": 'text-anchor="middle">{}</text>', "bpmn": 'name="{} '}.items():
        drawn = (folder / ("hard-long" + ENDINGS[form])).read_text()
        expect(all(mark.format(i) in drawn for i in (1, 60, 61, 2500, 4999, 5000)), f"every step is in the {form}")


def findings_as_sarif():
    """A clean file, a story, a misspelt name, an error of layout and a file that is not there."""
    example = tree / "examples/aldermoss-exit.ward"
    for other in (tree / "examples").glob("*.ward"):
        (folder / other.name).write_text(other.read_text())
    text = example.read_text()
    lines = text.split("\n")
    at = next(i for i, line in enumerate(lines) if "known as respirator off" in line)
    (folder / "forgotten.ward").write_text("\n".join(lines[:at + 1] + lines[at + 2:]))
    (folder / "misspelt.ward").write_text(text.replace("take off coverall using", "take off coverral using"))
    (folder / "torn.ward").write_text("stepward 1 protocol\nphase \"A\n  act\n")
    codes = {"aldermoss-exit": 0, "forgotten": 1, "misspelt": 1, "torn": 1, "not there": 3}
    for name, code in codes.items():
        target = folder / f"{name}.sarif.json"
        for form in ("text", "sarif"):
            to = ["-o", str(target)] if form == "sarif" else []
            done = subprocess.run([program, "check", str(folder / f"{name}.ward"), "--today", "2030-11-01", "--format", form, *to], capture_output=True, text=True)
            expect(done.returncode == code, f"{name} as {form} gives {done.returncode}")
    story = json.loads((folder / "forgotten.sarif.json").read_text())["runs"][0]
    flows = [r["codeFlows"][0]["threadFlows"][0]["locations"] for r in story["results"] if r["level"] == "error"]
    expect(flows and all(len(f) > 1 and "physicalLocation" in f[-1]["location"] for f in flows), "a story is a code flow that ends at the finding")
    expect(not any("fixes" in r for r in story["results"]), "what changes the order is no fix that a program may apply")
    fix_mends("misspelt", text)
    clean = json.loads((folder / "aldermoss-exit.sarif.json").read_text())["runs"][0]
    expect(not any(r["level"] == "error" for r in clean["results"]) and "checked against" in clean["automationDetails"]["description"]["text"], "a clean run says what it was checked against")


def fix_mends(name, wanted):
    """The replacement, put in as SARIF says, gives the file as it should be."""
    results = json.loads((folder / f"{name}.sarif.json").read_text())["runs"][0]["results"]
    fixes = [r["fixes"][0]["artifactChanges"][0]["replacements"][0] for r in results if "fixes" in r]
    expect(len(fixes) == 1, "a misspelt name has a fix")
    region, lines = fixes[0]["deletedRegion"], (folder / f"{name}.ward").read_text().split("\n")
    expect(region["startLine"] == region["endLine"], "the name stands in one line")
    line = lines[region["startLine"] - 1]
    lines[region["startLine"] - 1] = line[:region["startColumn"] - 1] + fixes[0]["insertedContent"]["text"] + line[region["endColumn"] - 1:]
    expect("\n".join(lines) == wanted, "the fix mends the file")


folder.mkdir(parents=True, exist_ok=True)
for old in filter(Path.is_file, folder.glob("*")):
    old.unlink()
begun = time.time()
written = write_all()
print(f"{len(written)} files written in {time.time() - begun:.1f} s")
expect(len(written) > 100, "the library has protocols")
same_bytes_again(written)
write_hard()
findings_as_sarif()
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
print(pages_of_charts(), "pages of flow charts")
print(run(node, modules / "validate.mjs", folder, tree / "docs/outputs/graph.schema.json"))
