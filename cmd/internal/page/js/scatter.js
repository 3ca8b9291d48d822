// metrics are what the scatter can show along an axis or as size.
let metrics = [];
const metricsOf = () => [
  ...page.axes.map((axis, a) => ({
    key: axis.key,
    name: `${axis.name}, 0 to 100`,
    less: false,
    of: (row) => rows.axes[a][row],
  })),
  ...page.bounds.map((bound, b) => ({
    key: bound.key,
    name: withUnit(bound.name + (bound.unit ? "," : ""), bound.unit),
    less: bound.atMost,
    of: (row) => limited(row, b),
  })),
];
const metricOf = (key) => metrics.find((m) => m.key === key);

const forms = [
  {
    key: "cells",
    name: "cells of the pack",
    of: (row) => page.parts.packs[rows.pack[row]].cells,
    word: (n) => `${n}S`,
  },
  {
    key: "blades",
    name: "blades of the prop",
    of: (row) => page.parts.props[rows.prop[row]].blades,
    word: (n) => `${n} blades`,
  },
  { key: "none", name: "all alike", of: () => 0, word: () => "" },
];

// bestOfTwo are the rows that none beats in both of two metrics, from the best in x on.
function bestOfTwo(kept, x, y) {
  const sign = (m) => (m.less ? -1 : 1);
  const sorted = kept
    .filter((row) => !Number.isNaN(x.of(row) + y.of(row)))
    .sort((a, b) => sign(x) * (x.of(b) - x.of(a)) || sign(y) * (y.of(b) - y.of(a)) || a - b);
  const front = [];
  let most = -Infinity;
  for (const row of sorted) {
    if (sign(y) * y.of(row) > most) {
      most = sign(y) * y.of(row);
      front.push(row);
    }
  }
  return front;
}

function span(values) {
  let low = Infinity,
    high = -Infinity;
  for (const v of values) if (!Number.isNaN(v)) ((low = Math.min(low, v)), (high = Math.max(high, v)));
  if (low > high) return { low: 0, high: 1 };
  const edge = (high - low) * 0.05 || Math.abs(high) * 0.05 || 1;
  return { low: low - edge, high: high + edge };
}

const drawing = { kept: [], front: [], at: null };

// scatter draws the plot. Its ground, the points that keep the limits, is drawn anew only if these, the
// choices or the size have changed.
function scatter(state, ranking) {
  const width = Math.max(byId("field").clientWidth, 260);
  const ground = JSON.stringify([state.limits, state.picks, state.x, state.y, state.size, state.form, width]);
  Object.assign(drawing, {
    kept: ranking.kept,
    scores: ranking.scores,
    heads: ranking.heads,
    places: ranking.places,
  });
  if (ground !== drawing.ground) drawGround(state, ranking, width);
  drawing.ground = ground;
  const tag = (row, text) => {
    const [cx, cy] = drawing.place(row);
    return svg("text", { class: "tag", x: cx + 8, y: cy - 7 }, text);
  };
  drawing.seen = svg("g");
  replace(
    drawing.over,
    ranking.kept.length > 0 &&
      !state.picks.includes(ranking.kept[0]) && [
        drawing.glyph(ranking.kept[0], { d: shapes[0](7), class: "seen" }),
        tag(ranking.kept[0], "1"),
      ],
    state.picks.map((row, n) => [
      drawing.glyph(row, { d: shapes[n](7), class: `glyph k${n}` }),
      tag(row, letters[n]),
    ]),
    drawing.seen,
  );
  ring(state);
}

function drawGround(state, ranking, width) {
  const x = metricOf(state.x),
    y = metricOf(state.y),
    size = metricOf(state.size),
    form = forms.find((f) => f.key === state.form);
  const target = byId("field").querySelector("svg"),
    height = Math.min(Math.max(width * 0.78, 280), 560);
  const drawn = [...ranking.kept, ...state.picks.filter((row) => !ranking.kept.includes(row))];
  const label = (m) => m.name + (m.less ? " (less is better)" : "");
  const f = frame(
    target,
    width,
    height,
    { ...span(drawn.map(x.of)), label: label(x) },
    { ...span(drawn.map(y.of)), label: label(y) },
  );
  const place = (row) => [f.px(x.of(row)), f.py(y.of(row))];
  const range = size && span(drawn.map(size.of));
  const radius = (row) =>
    size ? 1.6 + 4.4 * Math.sqrt(Math.max(0, (size.of(row) - range.low) / (range.high - range.low || 1))) : 3;
  const kinds = [...new Set(drawn.map(form.of))].sort((a, b) => a - b);
  const shapeOf = (row) => shapes[kinds.indexOf(form.of(row)) % shapes.length];
  const glyph = (row, attributes) => {
    const [cx, cy] = place(row);
    return svg("path", { transform: `translate(${cx.toFixed(1)} ${cy.toFixed(1)})`, ...attributes });
  };
  // Of points that would cover each other one is drawn.
  const taken = new Set(),
    points = svg("g"),
    over = svg("g");
  for (const row of ranking.kept) {
    const [cx, cy] = place(row),
      spot = `${Math.round(cx / 4)} ${Math.round(cy / 4)} ${form.of(row)}`;
    if (Number.isNaN(cx + cy) || taken.has(spot)) continue;
    taken.add(spot);
    points.append(glyph(row, { d: shapeOf(row)(Number(radius(row).toFixed(1))), class: "point" }));
  }
  const front = bestOfTwo(ranking.kept, x, y);
  const line = front
    .map((row, i) => {
      const [cx, cy] = place(row);
      return i ? `H${cx.toFixed(1)}V${cy.toFixed(1)}` : `M${cx.toFixed(1)} ${cy.toFixed(1)}`;
    })
    .join("");
  target.append(points, svg("path", { class: "front", d: line }), over);
  Object.assign(drawing, { front, place, glyph, drawn, over });

  byId("field").setAttribute(
    "aria-label",
    `Scatter plot of ${y.name} over ${x.name}: ${ranking.kept.length} builds, ` +
      `${front.length} on the front that none beats in both`,
  );
  replace(
    byId("legend"),
    el(
      "span",
      {},
      svg("svg", { viewBox: "0 0 16 16", "aria-hidden": "true" }, svg("path", { class: "front", d: "M1 3H9V13H15" })),
      "front: nothing beats these in both",
    ),
    size && el("span", {}, `size: ${size.name}`),
    form.key !== "none" &&
      kinds.map((kind, i) =>
        el(
          "span",
          {},
          svg(
            "svg",
            { viewBox: "-8 -8 16 16", "aria-hidden": "true" },
            svg("path", { class: "point", d: shapes[i % shapes.length](5) }),
          ),
          form.word(kind),
        ),
      ),
  );
}

// ring rings the row in the readout.
function ring(state) {
  if (state.seen === null || !drawing.place || !drawing.drawn.includes(state.seen))
    return drawing.seen.replaceChildren();
  const [cx, cy] = drawing.place(state.seen);
  drawing.seen.replaceChildren(
    svg("path", { class: "seen", d: shapes[0](10), transform: `translate(${cx.toFixed(1)} ${cy.toFixed(1)})` }),
  );
}

// readout says what the row seen is.
function readout(state, wire) {
  const row = state.seen;
  if (row === null)
    return byId("readout").replaceChildren(
      el("p", {}, "Point at a build, tap it, or step through with the arrow keys."),
    );
  const parts = partsOf(row),
    place = drawing.kept.includes(row) ? drawing.places.get(rowKey(row)) : -1,
    picked = state.picks.includes(row);
  byId("readout").replaceChildren(
    el(
      "p",
      {},
      el("strong", {}, nameOf(row)),
      place < 0
        ? ", outside the limits"
        : `, ${drawing.heads[place] === row ? "" : "a variant of "}` +
            `number ${grouped(place + 1)}, score ${fixed(drawing.scores[row], 1)}`,
    ),
    el(
      "p",
      {},
      page.axes.map((axis, a) => `${axis.name} ${fixed(rows.axes[a][row], 0)}`).join(", "),
      "; ",
      brief(row),
    ),
    el("p", {}, kinds.map((kind) => parts[kind].text).join("; ")),
    el(
      "p",
      { class: "tools" },
      el(
        "button",
        { type: "button", disabled: !picked && state.picks.length >= letters.length, onclick: () => wire.pick(row) },
        picked ? "Take out of the comparison" : "Compare",
      ),
      el("button", { type: "button", onclick: () => wire.open(row) }, "Bench sheet"),
    ),
  );
}

// watch wires pointer and keys of the plot.
function watch(wire) {
  const field = byId("field");
  const nearest = (event) => {
    const box = field.querySelector("svg").getBoundingClientRect();
    let best = null,
      least = 24 ** 2;
    for (const row of drawing.drawn || []) {
      const [cx, cy] = drawing.place(row),
        d = (cx - event.clientX + box.left) ** 2 + (cy - event.clientY + box.top) ** 2;
      if (d < least) [best, least] = [row, d];
    }
    return best;
  };
  const see = (row) => {
    if (row === null || row === undefined || row === state.seen) return;
    state.seen = row;
    ring(state);
    readout(state, wire);
  };
  field.addEventListener("pointermove", (event) => event.pointerType === "mouse" && see(nearest(event)));
  field.addEventListener("click", (event) => see(nearest(event)));
  field.addEventListener("keydown", (event) => {
    const step = { ArrowRight: 1, ArrowLeft: -1, ArrowDown: 1, ArrowUp: -1 }[event.key];
    const along = event.key === "ArrowRight" || event.key === "ArrowLeft" ? alongX() : drawing.kept;
    if (step) {
      const at = along.indexOf(state.seen);
      see(along[at < 0 ? 0 : Math.min(Math.max(at + step, 0), along.length - 1)]);
    } else if ((event.key === "Enter" || event.key === " ") && state.seen !== null) wire.pick(state.seen);
    else if (event.key === "s" && !event.ctrlKey && !event.metaKey && state.seen !== null) wire.open(state.seen);
    else return;
    event.preventDefault();
  });
}

// alongX is the front from left to right.
function alongX() {
  return [...drawing.front].sort((a, b) => drawing.place(a)[0] - drawing.place(b)[0]);
}
