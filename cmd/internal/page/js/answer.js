// answer says first what to build, how sure that is, and which reading would settle it.
let sure = null,
  asking = 0;
function answer() {
  const best = shares(state.weights) ? ranking.kept[0] : undefined,
    known = lead && lead.rows.length > 0 && best !== undefined && lead.rows[0].key === keyOf(best);
  const detail = best === undefined ? null : detailOf(best);
  const dangers =
    best === undefined
      ? []
      : known
        ? lead.dangers
        : notesOf(best)
            .filter((note) => note.kind === dangerNote)
            .map((note) => capital(note.text) + ".");
  replace(
    byId("dangers"),
    dangers.map((text) => el("p", { class: "danger" }, el("strong", {}, "Danger: "), text)),
  );
  const said = best === undefined ? [] : known ? lead.advice : adviceOf(best);
  byId("advice").replaceChildren(...lines(said));
  replace(byId("sure"), known && !changedSince() ? surely() : null);
  replace(
    byId("first-tools"),
    best !== undefined && [
      button("Build sheet", () => wire.open(best)),
      source.can("vary") && button("What if …", () => wire.vary(best)),
    ],
  );
  if (source.live && best !== undefined && (changedSince() || !detail)) soon(best);
}

// surely says how sure the first is, and what one reading would settle.
function surely() {
  const reading = lead.settle.find((one) => one.cheapest) || lead.settle[0];
  return [el("p", {}, lead.sure), reading && source.live && button("Enter that reading", () => go("readings"))];
}

// soon asks the engine for what stands first, once nothing has moved for a moment; what is known already stands
// meanwhile.
function soon(best) {
  const mine = ++asking,
    from = page;
  setTimeout(async () => {
    if (mine !== asking || page !== from) return;
    try {
      if (!detailOf(best)) {
        await learnDetails([best]);
        if (mine !== asking || page !== from) return;
        answer();
        return;
      }
      const asked = JSON.stringify([state.weights, state.limits]);
      const found = await source.ask("lead");
      if (mine !== asking || page !== from) return;
      lead = found;
      leadFor = asked;
      sayLead();
      answer();
      list(state, ranking, wire);
    } catch (fault) {
      if (fault.name !== "AbortError") complain(fault);
    }
  }, 350);
}

const capital = (text) => text.slice(0, 1).toUpperCase() + text.slice(1);

// sayLead says what stands first before the builds themselves are known, and what to mind in the whole drawer.
function sayLead() {
  if (!lead) return;
  const dangers = lead.care.slice(0, lead.careDangers);
  replace(
    byId("drawer-dangers"),
    dangers.length === 1 && el("p", { class: "danger" }, el("strong", {}, "Danger: "), dangers[0]),
    dangers.length > 1 &&
      el(
        "details",
        { class: "danger" },
        el(
          "summary",
          {},
          el("strong", {}, "Danger, read first: "),
          dangers.map((text) => text.split(":")[0]).join("; "),
        ),
        bullets(dangers),
      ),
  );
  replace(
    byId("why"),
    lead.why && el("p", {}, lead.why),
    lead.instead.length > 0 && [el("p", {}, "To take instead, for more of one axis:"), bullets(lead.instead)],
    lead.others.length > 0 && [el("p", {}, "Dangers of the others:"), bullets(lead.others)],
    lead.scale && el("p", {}, lead.scale),
    lead.ruledOut && el("p", {}, lead.ruledOut),
  );
  byId("why-fold").hidden = !byId("why").childElementCount;
  if (page) return;
  byId("ranking").hidden = !lead.rows.length;
  byId("advice").replaceChildren(...lines(lead.advice));
  replace(
    byId("dangers"),
    lead.dangers.map((text) => el("p", { class: "danger" }, el("strong", {}, "Danger: "), text)),
  );
  replace(byId("sure"), lead.sure && el("p", {}, lead.sure), bullets(lead.misses));
  byId("rows").replaceChildren(
    ...lead.rows.map((row, place) => {
      const named = Object.fromEntries(row.key.split(",").map((word) => word.split("=")));
      return el(
        "tr",
        {},
        el("td"),
        el("td", {}, String(place + 1)),
        el(
          "th",
          { scope: "row" },
          el("span", { class: "ids" }, ids({ id: named.motor }, { id: named.prop }, { id: named.pack })),
          !row.last && el("span", { class: "ids doubt" }, doubtText(row)),
        ),
        el("td", { class: "score" }, fixed(row.score, 1)),
      );
    }),
  );
}
