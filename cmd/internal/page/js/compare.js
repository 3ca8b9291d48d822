// compare sets the picked combinations side by side.
function compare(state, ranking, wire) {
  if (state.picks.length === 0) return (byId("compared").replaceChildren(), byId("panels").replaceChildren());
  if (source.can("details") && state.picks.some((row) => !detailOf(row))) {
    learnDetails(state.picks).then(
      (all) => all && state.view === "compare" && compare(state, ranking, wire),
      complain,
    );
  }
  const picks = state.picks,
    parts = picks.map(partsOf),
    w = shares(state.weights);
  const head = tableRow(
    { class: "head" },
    el("th", { scope: "col", role: "columnheader", class: "left" }, el("span", { class: "unseen" }, "figure")),
    picks.map((row, n) =>
      el(
        "th",
        { scope: "col", role: "columnheader" },
        el("span", { class: "letter" }, letters[n], mark(n)),
        el("span", { class: "whose" }, ids(parts[n].motor, parts[n].prop, parts[n].pack)),
        el(
          "p",
          { class: "tools" },
          el(
            "button",
            { type: "button", "aria-label": `Bench sheet of ${letters[n]}`, onclick: () => wire.open(row) },
            "Sheet",
          ),
          el(
            "button",
            { type: "button", "aria-label": `Take ${letters[n]} out`, onclick: () => wire.pick(row) },
            "Out",
          ),
        ),
      ),
    ),
  );
  const group = (name) =>
    tableRow({ class: "group" }, el("th", { colspan: picks.length + 1, scope: "rowgroup", role: "rowheader" }, name));
  const large = largest(picks);
  const body = el(
    "tbody",
    { role: "rowgroup" },
    large.length > 0 && [
      group("Largest differences"),
      large.map((figure) =>
        barLine(
          figure.name,
          figure.unit,
          picks.map((row) => figureOf(row, figure.key)),
          null,
          figure.meaning,
        ),
      ),
    ],
    group("Parts"),
    kinds.map((kind) =>
      partLine(
        kind,
        parts.map((p) => [p[kind]]),
      ),
    ),
    partLine(
      "extras",
      parts.map((p) => p.extras),
    ),
    group("Score"),
    barLine(
      "score",
      "",
      picks.map((row) => whole(w ? ranking.scores[row] : NaN)),
      { low: 0, high: 100 },
    ),
    page.axes.map((axis, a) =>
      barLine(
        axis.name,
        "",
        picks.map((row) => whole(rows.axes[a][row])),
        { low: 0, high: 100 },
      ),
    ),
    page.groups.map((g) => [
      group(g.name),
      g.figures
        .map((i) => page.figures[i])
        .map((figure) =>
          barLine(
            figure.name,
            figure.unit,
            picks.map((row) => figureOf(row, figure.key)),
            null,
            figure.meaning,
          ),
        ),
    ]),
  );
  const outside = picks
    .map((row, n) => [letters[n], keeps(row, state.limits)])
    .filter(([, inside]) => !inside)
    .map(([letter]) => letter);
  const light = picks.map((row, n) => [row, letters[n]]).filter(([row]) => !detailOf(row));
  replace(
    byId("compared"),
    outside.length > 0 &&
      el(
        "p",
        { class: "warn" },
        `${outside.join(" and ")} ${outside.length > 1 ? "break" : "breaks"} the limits above.`,
      ),
    picks.map((row, n) =>
      doubts(row, state.limits).map((text) => el("p", { class: "warn" }, `${letters[n]}: ${text}.`)),
    ),
    !source.can("details") &&
      light.map(([row, letter]) =>
        el(
          "p",
          { class: "warn" },
          `${letter} is not worked out in full in this file. In a terminal: `,
          el("code", {}, `${page.command.replace(" rank", " explain")} --pick ${keyOf(row)}`),
        ),
      ),
    el(
      "table",
      { class: `compared of${picks.length}`, role: "table" },
      el("caption", { class: "unseen" }, "The picked combinations side by side; ranges hold in 8 of 10 cases"),
      el("thead", { role: "rowgroup" }, head),
      body,
    ),
  );
  panels(picks);
}

// largest are the figures a choice is made by in which builds differ most for how well they are known, the largest
// first.
function largest(picks) {
  const most = 6,
    telling = new Set([
      ...page.bounds.map((bound) => bound.key),
      ...page.axes.flatMap((axis) => axis.keys),
      "full_throttle_current_a",
      "throttle_cap_pct",
    ]);
  return page.figures
    .filter((figure) => telling.has(figure.key))
    .map((figure) => {
      const known = picks.map((row) => figureOf(row, figure.key));
      if (known.length < 2 || known.some((one) => !one)) return { figure, apart: 0 };
      const values = known.map((one) => one.value),
        gap = Math.max(...values) - Math.min(...values);
      const doubt = known.reduce((sum, one) => sum + (one.high - one.low) / 2, 0) / known.length,
        size = Math.max(...values.map(Math.abs));
      return { figure, apart: size > 0 ? gap / (0.1 * size + doubt) : 0 };
    })
    .filter((one) => one.apart > 0.3)
    .sort((a, b) => b.apart - a.apart)
    .slice(0, most)
    .map((one) => one.figure);
}

const whole = (value) => (Number.isNaN(value) ? undefined : { value, low: value, high: value, digits: 1 });

// The roles keep it a table where a narrow screen lays it out otherwise.
const tableRow = (attributes, ...cells) => el("tr", { role: "row", ...attributes }, cells);

function partLine(kind, lists) {
  const words = lists.map((list) => list.map((part) => part.id).join(", ") || "none");
  return tableRow(
    {},
    el("th", { scope: "row", role: "rowheader" }, kind),
    lists.map((list, n) =>
      el(
        "td",
        { role: "cell", class: words[n] !== words[0] && "other" },
        words[n],
        kind !== "extras" && el("small", {}, list[0].text),
      ),
    ),
  );
}

// barLine is one figure: values with their ranges, and bars on one scale.
function barLine(name, unit, figures, scale, meaning) {
  const known = figures.filter(Boolean);
  const range = scale || span(known.flatMap((f) => [f.low, f.high]));
  return tableRow(
    {},
    el(
      "th",
      { scope: "row", role: "rowheader", title: meaning },
      withUnit(name + (unit ? "," : ""), unit),
      known.length > 0 && bars(figures, range),
    ),
    figures.map((f) =>
      el(
        "td",
        { role: "cell" },
        f && f.digits ? fixed(f.value, f.digits) : plain(f),
        interval(f) && el("small", {}, interval(f)),
      ),
    ),
  );
}

function bars(figures, range) {
  const width = 300,
    step = 11,
    px = (v) => 7 + ((v - range.low) / (range.high - range.low || 1)) * (width - 14);
  return svg(
    "svg",
    { viewBox: `0 0 ${width} ${step * figures.length + 2}`, "aria-hidden": "true" },
    figures.map((f, n) => {
      const y = step * n + step / 2 + 1;
      return [
        svg("path", { class: "grid", d: `M7 ${y}H${width - 7}` }),
        f && f.high > f.low && svg("path", { class: `span k${n}`, d: `M${px(f.low)} ${y}H${px(f.high)}` }),
        f && svg("path", { class: `glyph k${n}`, d: shapes[n](4.6), transform: `translate(${px(f.value)} ${y})` }),
      ];
    }),
  );
}
