
// The page's state; the address holds what differs from the opening.
const pageful = 20;
const opening = () => ({
  weights: page.axes.map((axis) => 10 * axis.weight), limits: page.bounds.map((bound) => bound.open),
  picks: [], sheet: null, seen: null, shown: pageful,
  ...heaviest(), size: "all_up_g", form: "cells",
});

// heaviest are the two axes that weigh most as the page opens.
function heaviest() {
  const [x, y] = page.axes.map((axis) => axis).sort((a, b) => b.weight - a.weight).map((axis) => axis.key);
  return { x, y };
}

let state = opening(), ranking;

// refresh ranks anew and draws everything that hangs on it, once a frame.
let waiting = 0;
function refresh() {
  if (!waiting) waiting = requestAnimationFrame(() => { waiting = 0; redraw(); });
}

function redraw() {
  ranking = rank(state.weights, state.limits);
  controls();
  status();
  list(state, ranking, wire);
  scatter(state, ranking);
  readout(state, wire);
  compare(state, ranking, wire);
  write();
}

const wire = {
  pageful,
  pick(row) {
    state.picks = state.picks.includes(row) ? state.picks.filter((other) => other !== row) : [...state.picks, row].slice(0, letters.length);
    const held = document.activeElement, again = held && held.getAttribute("aria-label"), line = held && held.closest("tr[data-row]");
    redraw();
    // What had the focus was drawn anew.
    if (line) byId("rows").querySelector(`tr[data-row="${line.dataset.row}"] input`)?.focus();
    else if (held && !held.isConnected) ([...document.querySelectorAll("#readout button, #compared button")].find((button) => button.getAttribute("aria-label") === again) || byId("compare-head")).focus();
  },
  open(row) {
    state.sheet = row;
    sheet(state, wire);
    write();
    if (row === null) byId("ranking").focus();
    else {
      byId("sheet-head").focus();
      byId("sheet").scrollIntoView();
    }
  },
};

function build() {
  byId("weights").append(...page.axes.map((axis, a) => el("div", { class: "weight" },
    el("label", { for: `weight-${axis.key}` }, axis.name),
    el("input", {
      type: "range", id: `weight-${axis.key}`, min: 0, max: 10, step: 0.25, "aria-describedby": `hint-${axis.key}`,
      oninput: (event) => { state.weights[a] = Number(event.target.value); refresh(); },
    }),
    el("output", { for: `weight-${axis.key}`, id: `share-${axis.key}` }),
    el("small", { id: `hint-${axis.key}` }, axis.hint))));
  byId("limits").append(...page.bounds.map((bound, b) => el("div", { class: "limit" },
    el("label", { for: `limit-${bound.key}` }, bound.label),
    el("input", {
      type: "number", id: `limit-${bound.key}`, min: 0, step: 1 / bound.perUnit, inputmode: "decimal", placeholder: "none",
      oninput: (event) => { state.limits[b] = stepsOf(event.target, bound); refresh(); },
      onchange: (event) => { event.target.dataset.edited = ""; controls(); },
    }),
    el("span", {}, bound.unit))));
  const choose = (key, label, options) => el("label", {}, label,
    el("select", { id: `choose-${key}`, onchange: (event) => { state[key] = event.target.value; refresh(); } }, options.map((o) => el("option", { value: o.key }, o.name))));
  byId("choices").append(choose("x", "across", metrics), choose("y", "up", metrics),
    choose("size", "dot size", [...metrics, { key: "none", name: "all alike" }]), choose("form", "dot shape", forms));
  byId("more").addEventListener("click", () => {
    const first = state.shown;
    state.shown += pageful;
    list(state, ranking, wire);
    byId("rows").children[first]?.querySelector("button").focus();
  });
  byId("wishes").addEventListener("submit", (event) => event.preventDefault());
  byId("wishes").addEventListener("reset", (event) => {
    event.preventDefault();
    const { weights, limits } = opening();
    Object.assign(state, { weights, limits, shown: pageful });
    document.querySelectorAll("#limits input").forEach((input) => { input.dataset.edited = ""; });
    redraw();
  });
  watch(state, wire);
  window.addEventListener("hashchange", () => location.hash !== written && (read(), redraw(), sheet(state, wire)));
  let width = innerWidth;
  window.addEventListener("resize", () => {
    if (innerWidth !== width) width = innerWidth, refresh();
  });
}

// stepsOf is what a limit's input says, in steps; null for none. What lies between two steps is taken
// to the tighter one.
function stepsOf(input, bound) {
  const value = parseFloat(input.value);
  if (!Number.isFinite(value)) return null;
  const steps = value * bound.perUnit, nearest = Math.round(steps);
  if (Math.abs(steps - nearest) < 1e-6) return nearest;
  return bound.atMost ? Math.floor(steps) : Math.ceil(steps);
}

// controls shows the state in sliders, inputs and choices; what is being typed stays.
function controls() {
  const w = shares(state.weights);
  page.axes.forEach((axis, a) => {
    const slider = byId(`weight-${axis.key}`), share = w ? `${fixed(100 * w[a], 0)} %` : "–";
    if (document.activeElement !== slider) slider.value = state.weights[a];
    slider.setAttribute("aria-valuetext", `${round(state.weights[a], 2)}, ${share} of all weights`);
    byId(`share-${axis.key}`).textContent = `${round(state.weights[a], 2)} (${share})`;
  });
  page.bounds.forEach((bound, b) => {
    const input = byId(`limit-${bound.key}`);
    if (document.activeElement === input && input.dataset.edited === undefined) return;
    delete input.dataset.edited;
    input.value = state.limits[b] === null ? "" : state.limits[b] / bound.perUnit;
  });
  for (const key of ["x", "y", "size", "form"]) byId(`choose-${key}`).value = state[key];
}

// status says in words what the ranking came to.
function status() {
  const best = ranking.kept[0], all = `${grouped(ranking.kept.length)} of the ${grouped(rows.count)} combinations here keep the limits, in ${grouped(ranking.heads.length)} rows.`;
  let text = `First: ${best === undefined ? "" : nameOf(best)}, score ${best === undefined ? "" : fixed(ranking.scores[best], 1)}. ${all}`;
  if (!shares(state.weights)) text = "All weights are 0, so that nothing can be ranked: raise one of them. " + all;
  else if (best === undefined) text = "Nothing keeps these limits: loosen one of them. " + tightest();
  byId("status").textContent = text;
  byId("advice").replaceChildren(...advice(best).map((line) => el("p", { class: "about" }, line)));
  byId("command").textContent = command();
}

// advice is what to build: as the page opens in full, else what the first row is.
function advice(best) {
  if (best === undefined || !shares(state.weights)) return [];
  if (page.advice && page.advice.row === best) return page.advice.lines;
  const parts = partsOf(best);
  return [`Build: ${["motor", "prop", "pack", "frame", "board"].map((kind) => parts[kind].text).join("; ")}.`];
}

// tightest says which limit alone leaves nothing or least.
function tightest() {
  const counts = page.bounds.map((bound, b) => [bound, state.limits[b], b]).filter(([, limit]) => limit !== null).map(([bound, limit, b]) => {
    const without = state.limits.map((other, i) => (i === b ? null : other));
    let left = 0;
    for (let row = 0; row < rows.count; row++) if (keeps(row, without)) left++;
    return [left, bound];
  }).sort((a, b) => b[0] - a[0]);
  return counts.length && counts[0][0] > 0 ? `Without the limit on ${counts[0][1].name}, ${grouped(counts[0][0])} are left.` : "";
}

// command is the command line that ranks so.
function command() {
  const weights = page.axes.map((axis, a) => [axis.key, round(state.weights[a], 4)]).filter(([, w]) => w > 0).map(([key, w]) => `${key}=${w}`).join(",");
  const limits = page.bounds.flatMap((bound, b) => {
    const steps = state.limits[b] === null ? (bound.open === null ? null : bound.atMost ? 1e6 * bound.perUnit : 0) : state.limits[b];
    return steps === null ? [] : [` --limit ${bound.key}=${bound.atMost ? ".." : ""}${steps / bound.perUnit}${bound.atMost ? "" : ".."}`];
  });
  return page.command + (weights ? ` --weights ${weights}` : "") + limits.join("");
}

// write puts what differs from the opening into the address.
let written = location.hash;
function write() {
  const start = opening(), words = [];
  const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);
  if (!same(state.weights, start.weights)) words.push("w=" + state.weights.map((w) => round(w, 6)).join("_"));
  page.bounds.forEach((bound, b) => {
    if (state.limits[b] !== start.limits[b]) words.push(`${bound.key}=${state.limits[b] === null ? "" : state.limits[b] / bound.perUnit}`);
  });
  for (const key of ["x", "y", "size", "form"]) if (state[key] !== start[key]) words.push(`${key}=${state[key]}`);
  if (state.picks.length) words.push("picks=" + state.picks.map(markOf).join("_"));
  if (state.sheet !== null) words.push("sheet=" + markOf(state.sheet));
  written = words.length ? "#" + words.join("&") : "";
  if (location.hash !== written) history.replaceState(null, "", written || location.pathname + location.search);
}

// read takes the state out of the address; what it does not understand stays as the page opened.
function read() {
  const { seen, shown } = state;
  Object.assign(state, opening(), { seen, shown });
  const words = new URLSearchParams(location.hash.slice(1));
  const weights = (words.get("w") || "").split("_").map(Number);
  if (weights.length === page.axes.length && weights.every((w) => w >= 0 && w <= 10)) state.weights = weights;
  page.bounds.forEach((bound, b) => {
    if (words.has(bound.key)) state.limits[b] = stepsOf({ value: words.get(bound.key) }, bound);
  });
  for (const [key, options] of [["x", metrics], ["y", metrics], ["size", [...metrics, { key: "none" }]], ["form", forms]]) {
    if (options.some((o) => o.key === words.get(key))) state[key] = words.get(key);
  }
  const marks = (words.get("picks") || "").split("_").filter(Boolean), open = words.get("sheet");
  if (!marks.length && !open) return;
  const at = new Map();
  for (let row = rows.count - 1; row >= 0; row--) at.set(markOf(row), row);
  state.picks = marks.map((m) => at.get(m)).filter((row) => row !== undefined).slice(0, letters.length);
  state.sheet = at.get(open) ?? null;
}

build();
read();
redraw();
sheet(state, wire);
