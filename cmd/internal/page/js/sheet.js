// sheet draws the bench sheet of a build: what to take out, what to mind, what to read on the first flight.
function sheet(state, wire) {
  const target = byId("sheet"),
    row = state.build;
  if (row === null) return target.replaceChildren();
  if (!detailOf(row) && source.can("details")) {
    learnDetails([row]).then(
      (all) => all && state.view === "sheet" && state.build === row && sheet(state, wire),
      complain,
    );
  }
  const parts = partsOf(row),
    taken = toTake(parts),
    said = notesOf(row),
    dangers = said.filter((note) => note.kind === dangerNote);
  const told = el("div", { class: "told" });
  target.replaceChildren(
    el(
      "p",
      { class: "tools" },
      button("Back", back),
      button("Print on one page", () => window.print()),
      source.can("vary") && button("What if …", () => wire.vary(row)),
      source.live && button("I built this", () => built(row)),
    ),
    el("h2", { id: "sheet-head", tabindex: "-1" }, "Bench sheet: " + nameOf(row)),
    ...dangers.map((note) => el("p", { class: "danger" }, el("strong", {}, "Danger: "), capital(note.text) + ".")),
    el("div", { class: "said" }, lines(adviceOf(row))),
    el(
      "p",
      {},
      `From ${page.drawer}, flown as ${page.style}: ` +
        page.axes.map((axis, a) => `${axis.name} ${fixed(rows.axes[a][row], 0)}`).join(", ") +
        ".",
    ),
    el(
      "p",
      { class: "blank" },
      ["built on", "by", "craft"].map((word) => el("span", {}, word)),
    ),
    takeTable(taken, row),
    el(
      "div",
      { class: "columns" },
      el("div", {}, notes(row, taken, state.limits)),
      el(
        "div",
        {},
        el("h3", {}, "Before the first flight"),
        el(
          "ul",
          { class: "checks" },
          before(row).map((text) => el("li", {}, el("span", { class: "tick" }), text)),
        ),
      ),
    ),
    el("h3", {}, "First flight"),
    ...[card(row)].flat(),
    told,
  );
  fitPage(target);
  if (source.can("explain")) explained(row, told);
}

// explained adds why a build stands where it does, what it gives up and what one part would change.
async function explained(row, target) {
  let found;
  try {
    found = await source.ask("explain", { pick: keyOf(row) });
  } catch (fault) {
    if (fault.name === "AbortError") return;
    return replace(target, el("p", {}, fault.message));
  }
  const one = found.results[0];
  if (!one) return;
  const texts = (list) => (list || []).map((entry) => entry.text).filter(Boolean);
  const block = (title, list) => list.length > 0 && [el("h3", {}, title), bullets(list)];
  replace(
    target,
    el("h3", {}, "Limiting part"),
    el("p", {}, one.binds),
    block("Score", texts(one.reasons)),
    block("Trade-offs", texts(one.gives_up)),
    block("Packs for it", texts(one.packs)),
    one.class && one.class.text && [el("h3", {}, "Weight class"), el("p", {}, one.class.text)],
    block("Assumed", one.assumed || []),
  );
}
