
// The numbers that the page was made with.
const page = JSON.parse(document.getElementById("data").textContent);

// unpack turns a column into numbers; what is missing becomes NaN.
function unpack(column) {
  const text = atob(column.data), width = column.width;
  const numbers = new Float64Array(text.length / width), gap = 256 ** width - 1;
  for (let i = 0; i < numbers.length; i++) {
    let q = 0;
    for (let b = width - 1; b >= 0; b--) q = 256 * q + text.charCodeAt(i * width + b);
    const x = column.from + column.step * q;
    numbers[i] = column.gaps && q === gap ? NaN : column.log ? Math.exp(x) : x;
  }
  return numbers;
}

const rows = {
  count: page.rows.count,
  motor: unpack(page.rows.motor), prop: unpack(page.rows.prop), pack: unpack(page.rows.pack), kit: unpack(page.rows.kit),
  axes: page.rows.axes.map(unpack), steps: page.rows.steps.map(unpack), detail: unpack(page.rows.detail),
};
rows.logs = rows.axes.map((axis) => axis.map((x) => Math.log(x / 100)));

const undefinedSteps = 2 ** 31 - 1;

// limited is the value of a row's limitable figure; NaN if it is undefined.
function limited(row, bound) {
  const steps = rows.steps[bound][row];
  return Math.abs(steps) >= undefinedSteps ? NaN : steps / page.bounds[bound].perUnit;
}

// partsOf names the parts of a row.
function partsOf(row) {
  const p = page.parts, kit = p.kits[rows.kit[row]];
  return {
    motor: p.motors[rows.motor[row]], prop: p.props[rows.prop[row]], pack: p.packs[rows.pack[row]],
    frame: p.frames[kit.frame], board: p.boards[kit.board], extras: kit.extras.map((i) => p.extras[i]), rotors: kit.rotors,
  };
}

const kinds = ["motor", "prop", "pack", "frame", "board"];

// nameOf names a combination in one line.
function nameOf(row) {
  const parts = partsOf(row);
  return kinds.map((kind) => parts[kind].id).join(" ");
}

// keyOf is the command line's name of a combination.
function keyOf(row) {
  const parts = partsOf(row), words = kinds.map((kind) => kind + "=" + parts[kind].id);
  if (parts.extras.length) words.push("extras=" + parts.extras.map((extra) => extra.id).sort().join("+"));
  return words.join(",");
}

// markOf is a short mark of a combination for the address (FNV-1a).
function markOf(row) {
  let hash = 0x811c9dc5;
  for (const byte of new TextEncoder().encode(keyOf(row))) hash = Math.imul(hash ^ byte, 0x01000193) >>> 0;
  return hash.toString(36);
}

// Details are unpacked when the first combination is looked at in full.
let unpacked;
function details() {
  if (!unpacked) {
    const c = page.details.curves;
    unpacked = {
      values: page.details.values.map((v) => ({ value: unpack(v.value), below: unpack(v.below), above: unpack(v.above) })),
      thrust: unpack(c.thrust), current: unpack(c.current), power: unpack(c.power), powerW: unpack(c.powerW), topMps: unpack(c.topMps),
      time: unpack(c.time), cellV: unpack(c.cellV), punchV: unpack(c.punchV), limitA: unpack(c.limitA), limit: unpack(c.limit),
    };
  }
  return unpacked;
}

const figureAt = new Map(page.figures.map((figure, i) => [figure.key, i]));

// figureOf is a figure of a row with its interval; undefined if the page does not hold it or it cannot
// be computed.
function figureOf(row, key) {
  const k = rows.detail[row] - 1;
  if (k < 0) {
    const bound = page.bounds.findIndex((b) => b.key === key), value = bound < 0 ? NaN : limited(row, bound);
    return Number.isNaN(value) ? undefined : { value, low: value, high: value };
  }
  const v = details().values[figureAt.get(key)], value = v.value[k];
  return Number.isNaN(value) ? undefined : { value, low: value - v.below[k], high: value + v.above[k] };
}
