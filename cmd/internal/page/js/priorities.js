// priorities makes the sliders, limits and choices of the plot anew.
function priorities() {
  byId("weights").replaceChildren(
    el("legend", {}, "Priorities"),
    ...page.axes.map((axis, a) =>
      el(
        "div",
        { class: "weight" },
        el("label", { for: `weight-${axis.key}` }, axis.name),
        el("input", {
          type: "range",
          id: `weight-${axis.key}`,
          min: 0,
          max: 10,
          step: 0.25,
          "aria-describedby": `hint-${axis.key}`,
          oninput: (event) => {
            state.weights[a] = Number(event.target.value);
            refresh();
          },
        }),
        el("output", { for: `weight-${axis.key}`, id: `share-${axis.key}` }),
        el("small", { id: `hint-${axis.key}` }, axis.hint),
      ),
    ),
  );
  byId("limits").replaceChildren(
    el("legend", {}, "Limits"),
    ...page.bounds.map((bound, b) =>
      el(
        "div",
        { class: "limit" },
        el("label", { for: `limit-${bound.key}` }, bound.label),
        el("input", {
          type: "number",
          id: `limit-${bound.key}`,
          min: 0,
          step: 1 / bound.perUnit,
          inputmode: "decimal",
          placeholder: "none",
          oninput: (event) => {
            state.limits[b] = stepsOf(event.target, bound);
            refresh();
          },
          onchange: (event) => {
            event.target.dataset.edited = "";
            controls();
          },
        }),
        el("span", {}, bound.unit),
      ),
    ),
  );
  const choose = (key, label, options) =>
    el(
      "label",
      {},
      label,
      el(
        "select",
        {
          id: `choose-${key}`,
          onchange: (event) => {
            state[key] = event.target.value;
            refresh();
          },
        },
        options.map((o) => el("option", { value: o.key }, o.name)),
      ),
    );
  metrics = metricsOf();
  byId("choices").replaceChildren(
    choose("x", "across", metrics),
    choose("y", "up", metrics),
    choose("size", "dot size", [...metrics, { key: "none", name: "all alike" }]),
    choose("form", "dot shape", forms),
  );
}

// resetWishes goes back to the weights and limits of the opening.
function resetWishes() {
  const { weights, limits } = opening();
  Object.assign(state, { weights, limits, shown: pageful });
  document.querySelectorAll("#limits input").forEach((input) => {
    input.dataset.edited = "";
  });
  redraw();
}

// stepsOf is what a limit's input says, in steps; null for none. What lies between two steps is taken
// to the tighter one.
function stepsOf(input, bound) {
  const value = parseFloat(input.value);
  if (!Number.isFinite(value)) return null;
  const steps = value * bound.perUnit,
    nearest = Math.round(steps);
  if (Math.abs(steps - nearest) < 1e-6) return nearest;
  return bound.atMost ? Math.floor(steps) : Math.ceil(steps);
}

// controls shows the state in sliders, inputs and choices; what is being typed stays.
function controls() {
  const w = shares(state.weights);
  page.axes.forEach((axis, a) => {
    const slider = byId(`weight-${axis.key}`),
      share = w ? `${fixed(100 * w[a], 0)} %` : "–";
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
  const named = page.axes.map((axis, a) => `${axis.name} ${round(state.weights[a], 2)}`).join(" · ");
  const kept = page.bounds.flatMap((bound, b) =>
    state.limits[b] === null
      ? []
      : [
          `${bound.word} ${bound.atMost ? "≤" : "≥"} ` +
            `${withUnit(String(state.limits[b] / bound.perUnit), bound.unit)}`,
        ],
  );
  byId("wishes-line").textContent =
    (source.live ? page.style + ": " : "") + named + (kept.length ? "; " + kept.join(", ") : "");
  for (const key of ["x", "y", "size", "form"]) byId(`choose-${key}`).value = state[key];
}

// status says in words what the ranking came to.
function status() {
  const best = ranking.kept[0],
    all =
      `${grouped(ranking.kept.length)} of the ${grouped(rows.count)} builds here keep the limits, ` +
      `in ${grouped(ranking.heads.length)} rows.`;
  let text = all;
  if (!shares(state.weights)) text = "All weights are 0, so that nothing can be ranked: raise one of them. " + all;
  else if (best === undefined) text = "Nothing keeps these limits: loosen one of them. " + tightest();
  const first =
    text === all && best !== undefined && `First: ${nameOf(best)}, score ${fixed(ranking.scores[best], 1)}. `;
  replace(byId("status"), first && el("span", { class: "first" }, first), text);
  byId("command").textContent = command();
}

// tightest says which limit alone leaves nothing or least.
function tightest() {
  const counts = page.bounds
    .map((bound, b) => [bound, state.limits[b], b])
    .filter(([, limit]) => limit !== null)
    .map(([bound, limit, b]) => {
      const without = state.limits.map((other, i) => (i === b ? null : other));
      let left = 0;
      for (let row = 0; row < rows.count; row++) if (keeps(row, without)) left++;
      return [left, bound];
    })
    .sort((a, b) => b[0] - a[0]);
  return counts.length && counts[0][0] > 0
    ? `Without the limit on ${counts[0][1].name}, ${grouped(counts[0][0])} are left.`
    : "";
}

// command is the command line that ranks so.
function command() {
  const weights = page.axes
    .map((axis, a) => [axis.key, round(state.weights[a], 4)])
    .filter(([, w]) => w > 0)
    .map(([key, w]) => `${key}=${w}`)
    .join(",");
  const limits = page.bounds.flatMap((bound, b) => {
    const steps =
      state.limits[b] === null
        ? bound.open === null
          ? null
          : bound.atMost
            ? 1e6 * bound.perUnit
            : 0
        : state.limits[b];
    return steps === null
      ? []
      : [` --limit ${bound.key}=${bound.atMost ? ".." : ""}${steps / bound.perUnit}${bound.atMost ? "" : ".."}`];
  });
  return page.command + (weights ? ` --weights ${weights}` : "") + limits.join("");
}
