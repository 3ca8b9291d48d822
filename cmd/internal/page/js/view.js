// The state of the page and its views; the address, or the browser's history where the engine is inside, holds what
// differs from the opening.
const pageful = 20;
const opening = () => ({
  weights: page.axes.map((axis) => 10 * axis.weight),
  limits: page.bounds.map((bound) => bound.open),
  picks: [],
  build: null,
  view: "builds",
  seen: null,
  shown: pageful,
  ...heaviest(),
  size: "all_up_g",
  form: "cells",
});

// heaviest are the two axes that weigh most as the page opens.
function heaviest() {
  const [x, y] = page.axes
    .map((axis) => axis)
    .sort((a, b) => b.weight - a.weight)
    .map((axis) => axis.key);
  return { x, y };
}

let source,
  state = null,
  ranking = null,
  lead = null;

// changed says whether weights or limits differ from the opening.
function changed() {
  const start = opening(),
    same = (a, b) => JSON.stringify(a) === JSON.stringify(b);
  return !same(state.weights, start.weights) || !same(state.limits, start.limits);
}

// refresh ranks anew and draws everything that hangs on it, once a frame.
let waiting = 0;
function refresh() {
  if (!waiting)
    waiting = requestAnimationFrame(() => {
      waiting = 0;
      redraw();
    });
}

function redraw() {
  if (!page) return;
  ranking = rank(state.weights, state.limits);
  controls();
  status();
  answer();
  list(state, ranking, wire);
  if (state.view === "builds") {
    scatter(state, ranking);
    readout(state, wire);
  }
  ticked();
  if (state.view === "compare") compare(state, ranking, wire);
  write();
}

// views are the parts of the page of which one is shown, with what draws it.
const views = {
  builds: () => (drawer.stale ? opens() : redraw()),
  compare: () => compare(state, ranking, wire),
  sheet: () => sheet(state, wire),
  change: () => change(state),
  plan: () => plan(),
  buy: () => buy(),
  parts: () => parts(),
  readings: () => readings(),
  listen: () => listen(),
  flight: () => flight(),
};
const places = ["parts", "builds", "readings"];

// show draws the view that the state names, and hides the others.
function show() {
  for (const name of Object.keys(views)) byId(name).hidden = name !== state.view;
  byId("footer").hidden = !page || !["builds", "compare"].includes(state.view);
  document.documentElement.classList.toggle("with-sheet", state.view === "sheet");
  for (const link of document.querySelectorAll("#places a")) {
    const place = places.includes(state.view) ? state.view : ["listen", "flight"].includes(state.view) ? "readings" : "builds";
    if (link.dataset.place === place) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
  views[state.view]();
  ticked();
}

// go shows another view as a new step of the browser's history, so that back returns from it.
const scrolled = new Map();
function go(view, build) {
  if (!state) state = { view: "builds", picks: [], build: null };
  scrolled.set(state.view, scrollY);
  state.view = view;
  if (build !== undefined) state.build = build;
  write(true);
  show();
  (byId(view).querySelector("h2") || byId(view)).focus({ preventScroll: true });
  scrollTo({ top: 0, behavior: "instant" });
}

// back returns from a view, to the builds if nothing stands before it.
function back() {
  if (history.state && history.state.steps > 0) history.back();
  else {
    state.view = "builds";
    write();
    arrive();
  }
}

// arrive shows what back or forward led to, where it was left.
function arrive() {
  show();
  const held = returning;
  returning = null;
  scrollTo({ top: scrolled.get(state.view) || 0, behavior: "instant" });
  if (held && held.isConnected) held.focus({ preventScroll: true });
  else if (state.view !== "builds")
    (byId(state.view).querySelector("h2") || byId(state.view)).focus({ preventScroll: true });
  else
    (byId("rows").querySelector(`tr[data-row="${state.build}"] button`) || byId("ranking")).focus({
      preventScroll: true,
    });
}
let returning = null;

const wire = {
  pageful,
  pick(row) {
    state.picks = state.picks.includes(row)
      ? state.picks.filter((other) => other !== row)
      : [...state.picks, row].slice(0, letters.length);
    const held = document.activeElement,
      again = held && held.getAttribute("aria-label"),
      line = held && held.closest("tr[data-row]");
    const more = state.picks.includes(row);
    if (state.view === "compare" && state.picks.length === 0) return back();
    redraw();
    // What had the focus was drawn anew.
    if (line) byId("rows").querySelector(`tr[data-row="${line.dataset.row}"] input`)?.focus({ preventScroll: true });
    else if (held && !held.isConnected)
      (
        [...document.querySelectorAll("#readout button, #compared button")].find(
          (one) => one.getAttribute("aria-label") === again,
        ) || byId("compare-head")
      ).focus({ preventScroll: true });
    if (more && state.picks.length > 1 && state.view === "builds") {
      state.build = row;
      go("compare");
    }
  },
  open: (row) => go("sheet", row),
  vary: (row) => go("change", row),
};

// ticked says on a small screen what ticking leads to.
function ticked() {
  if (!page) return;
  const n = state.picks.length,
    box = byId("ticked");
  box.hidden = n === 0 || state.view !== "builds";
  replace(
    box,
    n === 1
      ? el("span", {}, `${nameOf(state.picks[0])} is ticked: tick another to compare.`)
      : [el("span", {}, `${n} are ticked.`), button("Compare them", () => go("compare"))],
    n > 0 &&
      button("Clear", () => {
        state.picks = [];
        redraw();
        byId("ranking").focus({ preventScroll: true });
      }),
  );
}

// write puts what differs from the opening into the address; step makes it a new step of the history.
let written = location.hash;
function write(step) {
  if (!page) {
    if (step)
      history.pushState({ steps: ((history.state && history.state.steps) || 0) + 1, text: "view=" + state.view }, "");
    return;
  }
  const start = opening(),
    held = [];
  const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);
  if (!same(state.weights, start.weights)) held.push("w=" + state.weights.map((w) => round(w, 6)).join("_"));
  page.bounds.forEach((bound, b) => {
    if (state.limits[b] !== start.limits[b])
      held.push(`${bound.key}=${state.limits[b] === null ? "" : state.limits[b] / bound.perUnit}`);
  });
  for (const key of ["x", "y", "size", "form"]) if (state[key] !== start[key]) held.push(`${key}=${state[key]}`);
  if (state.picks.length) held.push("picks=" + state.picks.map(markOf).join("_"));
  if (state.build !== null && ["sheet", "change", "readings"].includes(state.view))
    held.push("build=" + markOf(state.build));
  if (state.view !== "builds") held.push("view=" + state.view);
  const steps = ((history.state && history.state.steps) || 0) + (step ? 1 : 0),
    text = held.join("&");
  written = source.live || !text ? "" : "#" + text;
  const address = source.live ? undefined : written || location.pathname + location.search;
  if (step) history.pushState({ steps, text }, "", address);
  else if (!history.state || history.state.text !== text || (!source.live && location.hash !== written))
    history.replaceState({ steps, text }, "", address);
}

// read takes the state out of the address or the history; what it does not understand stays as the page opened.
function read() {
  const { seen, shown, build } = state;
  Object.assign(state, opening(), { seen, shown, build });
  const held = new URLSearchParams(
    source.live ? (history.state && history.state.text) || "" : location.hash.slice(1),
  );
  const weights = (held.get("w") || "").split("_").map(Number);
  if (weights.length === page.axes.length && weights.every((w) => w >= 0 && w <= 10)) state.weights = weights;
  page.bounds.forEach((bound, b) => {
    if (held.has(bound.key)) state.limits[b] = stepsOf({ value: held.get(bound.key) }, bound);
  });
  for (const [key, options] of [
    ["x", metrics],
    ["y", metrics],
    ["size", [...metrics, { key: "none" }]],
    ["form", forms],
  ]) {
    if (options.some((o) => o.key === held.get(key))) state[key] = held.get(key);
  }
  state.picks = (held.get("picks") || "")
    .split("_")
    .filter(Boolean)
    .map(rowOfMark)
    .filter((row) => row !== undefined)
    .slice(0, letters.length);
  const view = held.get("view");
  if (held.has("build")) state.build = rowOfMark(held.get("build")) ?? null;
  if (!Object.hasOwn(views, view)) return;
  if (["sheet", "change"].includes(view) && (!held.has("build") || state.build === null)) return;
  if (view === "compare" && state.picks.length === 0) return;
  if (["change", "plan", "buy", "parts", "readings", "listen", "flight"].includes(view) && !source.live) return;
  state.view = view;
}

// work asks a question whose answer may take long: it says what is done so far, and can be stopped. It gives null where
// it was stopped or failed, which is said, and undefined where a later question took its place.
let stopping = null;
async function work(question, options, text, attached) {
  if (stopping) stopping.abort();
  const stop = (stopping = new AbortController()),
    box = byId("busy");
  const bar = el("progress", { max: 1, "aria-label": text });
  const said = el("span", {}, text + " …");
  byId("fault").hidden = true;
  const shown = setTimeout(() => {
    box.hidden = false;
    replace(
      box,
      said,
      bar,
      button("Stop", () => stop.abort()),
    );
  }, 250);
  try {
    return await source.ask(question, options, {
      signal: stop.signal,
      attached,
      progress: (done) => {
        if (done.share >= 0) bar.value = done.share;
        if (done.text) said.textContent = done.text;
      },
    });
  } catch (fault) {
    if (fault.name === "AbortError" && stopping !== stop) return undefined;
    if (fault.name !== "AbortError") complain(fault);
    return null;
  } finally {
    clearTimeout(shown);
    if (stopping === stop) {
      stopping = null;
      box.hidden = true;
    }
  }
}

// complain says what went wrong.
function complain(fault) {
  const box = byId("fault"),
    faults = (fault.faults || []).map((one) => (one.line > 0 ? `line ${one.line}: ${one.text}` : one.text));
  box.hidden = false;
  replace(
    box,
    faults.length ? [el("p", {}, `To fix in ${source.name}:`), bullets(faults)] : el("p", {}, fault.message),
    button("Close", () => {
      box.hidden = true;
    }),
  );
}
