// change asks what single changes would do to a build.
async function change(state) {
  const target = byId("change"),
    row = state.build;
  if (row === null) return target.replaceChildren();
  const field = el("input", {
    id: "change-own",
    autocomplete: "off",
    spellcheck: "false",
    placeholder: "pack.capacity_mah=850",
  });
  const found = el("div", {});
  replace(
    target,
    el("p", { class: "tools" }, button("Back", back)),
    el("h2", { tabindex: "-1" }, "What if: " + nameOf(row)),
    el(
      "form",
      {
        class: "tools",
        onsubmit: (event) => {
          event.preventDefault();
          ask(field.value.split(/\s+/).filter(Boolean));
        },
      },
      el("label", { for: "change-own" }, "A change of your own: PART.KEY=VALUE"),
      field,
      el("button", {}, "Try it"),
    ),
    found,
  );
  async function ask(changes) {
    const answer = await work("vary", { pick: keyOf(row), changes }, "Trying changes");
    if (answer) replace(found, lines((answer.advice || []).slice(0, 1)), changesTable(answer));
  }
  ask([]);
}

// changed figures that a what-if shows, with the words for more of them.
const changeFigures = [
  ["style_minutes", "min", 1],
  ["all_up_g", "g", 0],
  ["hover_throttle_pct", "% hover", 1],
  ["thrust_to_weight", "T/W", 2],
  ["top_speed_mps", "m/s", 1],
];

function changesTable(answer) {
  const signed = (x, digits) => (x > 0 ? "+" : "") + fixed(x, digits);
  const lineOf = (one) =>
    changeFigures
      .flatMap(([key, unit, digits]) => {
        const figure = one.figures[key],
          text = figure && figure.value !== null ? signed(figure.value, digits) : "";
        return !text || Number(text.replace("−", "-")) === 0 ? [] : [`${text}\u00a0${unit}`];
      })
      .join(", ");
  return el(
    "ul",
    { class: "results" },
    answer.changes.map((one) =>
      el(
        "li",
        {},
        el("strong", {}, one.change),
        one.misfits.length > 0
          ? `: not possible: ${one.misfits.join("; ")}`
          : `: score ${signed(one.score, 1)}; ${lineOf(one) || "no figure moves"}`,
        !one.feasible &&
          one.misfits.length === 0 &&
          el("em", {}, ` It breaks a limit: ${one.broken_limits.map((broken) => broken.text).join("; ")}.`),
      ),
    ),
  );
}
