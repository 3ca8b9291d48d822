// What is known of the builds: the document of them all, and what was asked of single ones.
let page = null,
  rows = null,
  sums = null,
  fetched = new Map(),
  wholeBatch = null;

// adopt takes a document of builds.
function adopt(document) {
  page = document;
  rows = {
    count: page.rows.count,
    motor: unpack(page.rows.motor),
    prop: unpack(page.rows.prop),
    pack: unpack(page.rows.pack),
    kit: unpack(page.rows.kit),
    axes: page.rows.axes.map(unpack),
    steps: page.rows.steps.map(unpack),
    detail: unpack(page.rows.detail),
  };
  rows.logs = rows.axes.map((axis) => axis.map((x) => Math.log(x / 100)));
  sums = rows.axes[0].map((_, row) => rows.axes.reduce((sum, axis) => sum + axis[row], 0));
  fetched = new Map();
  wholeBatch = null;
  figureAt = new Map(page.figures.map((figure, i) => [figure.key, i]));
  marked = null;
}

const undefinedSteps = 2 ** 31 - 1;

// limited is the value of a row's limitable figure; NaN if it is undefined.
function limited(row, bound) {
  const steps = rows.steps[bound][row];
  return Math.abs(steps) >= undefinedSteps ? NaN : steps / page.bounds[bound].perUnit;
}

// limitText is a row's limitable figure as tables show it.
function limitText(row, bound) {
  const unit = page.bounds[bound].perUnit;
  return fixed(limited(row, bound), unit > 10 ? 2 : 1);
}

// partsOf names the parts of a row.
function partsOf(row) {
  const p = page.parts,
    kit = p.kits[rows.kit[row]];
  return {
    motor: p.motors[rows.motor[row]],
    prop: p.props[rows.prop[row]],
    pack: p.packs[rows.pack[row]],
    frame: p.frames[kit.frame],
    board: p.boards[kit.board],
    extras: kit.extras.map((i) => p.extras[i]),
    rotors: kit.rotors,
  };
}

const kinds = ["motor", "prop", "pack", "frame", "board"];

// nameOf names a build in one line.
function nameOf(row) {
  const parts = partsOf(row);
  return kinds.map((kind) => parts[kind].id).join(" ");
}

// keyOf is the command line's name of a build.
function keyOf(row) {
  const parts = partsOf(row),
    named = kinds.map((kind) => kind + "=" + parts[kind].id);
  if (parts.extras.length)
    named.push(
      "extras=" +
        parts.extras
          .map((extra) => extra.id)
          .sort()
          .join("+"),
    );
  return named.join(",");
}

// markOf is a short mark of a build for the address (FNV-1a).
function markOf(row) {
  let hash = 0x811c9dc5;
  for (const byte of new TextEncoder().encode(keyOf(row))) hash = Math.imul(hash ^ byte, 0x01000193) >>> 0;
  return hash.toString(36);
}

// rowOfMark is the row with a mark; undefined for none.
let marked = null;
function rowOfMark(mark) {
  if (!marked) {
    marked = new Map();
    for (let row = rows.count - 1; row >= 0; row--) marked.set(markOf(row), row);
  }
  return marked.get(mark);
}

// batchOf unpacks details.
function batchOf(details) {
  const c = details.curves;
  return {
    details,
    values: details.values.map((v) => ({ value: unpack(v.value), below: unpack(v.below), above: unpack(v.above) })),
    thrust: unpack(c.thrust),
    current: unpack(c.current),
    power: unpack(c.power),
    powerW: unpack(c.powerW),
    topMps: unpack(c.topMps),
    time: unpack(c.time),
    cellV: unpack(c.cellV),
    punchV: unpack(c.punchV),
    limitA: unpack(c.limitA),
    limit: unpack(c.limit),
  };
}

// detailOf says where the details of a row stand, {batch, k}; null if they are not known.
function detailOf(row) {
  if (fetched.has(row)) return fetched.get(row);
  const k = rows.detail[row] - 1;
  if (k < 0) return null;
  if (!wholeBatch) wholeBatch = batchOf(page.details);
  return { batch: wholeBatch, k };
}

// learnDetails asks for the details of rows that are not known; it reports whether all are known then.
async function learnDetails(list, how) {
  const lacking = list.filter((row) => !detailOf(row)),
    from = page;
  if (!lacking.length) return true;
  if (!source.can("details")) return false;
  const answer = await source.ask("details", { picks: lacking.map(keyOf) }, how);
  if (page !== from) return false;
  const batch = batchOf(answer.details);
  lacking.forEach((row, k) => {
    fetched.set(row, { batch, k });
    const parts = partsOf(row);
    for (const kind of ["motor", "prop", "pack", "board"])
      Object.assign(parts[kind], answer.masses[`${kind} ${parts[kind].id}`]);
  });
  return true;
}

let figureAt = new Map();

// figureOf is a figure of a row with its interval; undefined if it is not known or cannot be computed.
function figureOf(row, key) {
  const at = detailOf(row);
  if (!at) {
    const bound = page.bounds.findIndex((b) => b.key === key),
      value = bound < 0 ? NaN : limited(row, bound);
    return Number.isNaN(value) ? undefined : { value, low: value, high: value };
  }
  const v = at.batch.values[figureAt.get(key)],
    value = v.value[at.k];
  return Number.isNaN(value) ? undefined : { value, low: value - v.below[at.k], high: value + v.above[at.k] };
}

// Kinds of notes.
const fitNote = 0,
  cautionNote = 1,
  assumedNote = 2,
  dangerNote = 3;

// notesOf are what is noted of a row, {kind, text}.
function notesOf(row) {
  const at = detailOf(row);
  if (!at) return [];
  return at.batch.details.notes[at.k].map((note) => {
    const [index, ...numbers] = [note].flat(),
      text = at.batch.details.texts[index];
    return {
      kind: text.kind || 0,
      text: numbers.length ? text.text.replaceAll("{}", () => numbers.shift()) : text.text,
    };
  });
}

// adviceOf is what to build, what to expect and what limits it, in sentences; what is not known in detail is named
// alone.
function adviceOf(row) {
  const at = detailOf(row);
  if (at) return at.batch.details.advice[at.k];
  const parts = partsOf(row);
  return [`Build: ${kinds.map((kind) => parts[kind].text).join("; ")}.`, `About ${brief(row)}.`];
}
