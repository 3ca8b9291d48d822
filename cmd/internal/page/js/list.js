// list shows the ranking, a row a motor, prop and pack; wire is what its controls call.
function list(state, ranking, wire) {
  const shown = ranking.heads.slice(0, state.shown),
    full = state.picks.length >= letters.length;
  byId("rows").replaceChildren(...shown.map((row, place) => line(row, place, ranking, state, full, wire)));
  const left = ranking.heads.length - shown.length;
  byId("more").hidden = left <= 0;
  byId("more").textContent = `Show ${Math.min(left, wire.pageful)} more of ${grouped(left)}`;
}

function line(row, place, ranking, state, full, wire) {
  const parts = partsOf(row),
    pick = state.picks.indexOf(row),
    name = nameOf(row),
    first = ranking.heads[0];
  const box = el("input", {
    type: "checkbox",
    "aria-label": `compare number ${place + 1}, ${name}`,
    disabled: full && pick < 0,
    onchange: () => wire.pick(row),
  });
  box.checked = pick >= 0;
  return el(
    "tr",
    { class: pick >= 0 && "picked", "data-row": row },
    el("td", {}, el("label", { class: "pick" }, box, pick >= 0 && mark(pick))),
    el("td", {}, String(place + 1)),
    el(
      "th",
      { scope: "row" },
      el("span", { class: "ids" }, ids(parts.motor, parts.prop, parts.pack)),
      el("span", { class: "ids rest" }, ids(parts.frame, parts.board)),
      el("span", { class: "ids brief" }, brief(row)),
      place > 0 && el("span", { class: "ids against" }, "against the first: ", against(row, first)),
      doubtOf(place, row),
      ranking.variants[place] > 0 && variantsOf(row, ranking, place, wire),
    ),
    el(
      "td",
      { class: "score" },
      fixed(ranking.scores[row], 1),
      button("Sheet", () => wire.open(row), { "aria-label": `Bench sheet of number ${place + 1}` }),
    ),
    rows.axes.map((axis) => bar(axis[row])),
    page.bounds.map((_, b) => el("td", { class: "more" }, limitText(row, b))),
  );
}

// against says what a row has more and less of than the first, the large differences first.
function against(row, first) {
  const said = page.bounds
    .map((bound, b) => ({ word: bound.word, share: limited(row, b) / limited(first, b) - 1 }))
    .filter((one) => Math.abs(one.share) >= 0.02)
    .sort((a, b) => Math.abs(b.share) - Math.abs(a.share))
    .slice(0, 3);
  return said.length
    ? said.map((one) => `${one.share > 0 ? "+" : ""}${fixed(100 * one.share, 0)}\u00a0% ${one.word}`).join(", ")
    : "much like the first";
}

// doubtOf says how sure a row's place is, where the ranking's draws are of these weights and limits.
function doubtOf(place, row) {
  if (!lead || !lead.rows[place] || lead.rows[place].last || changedSince() || lead.rows[place].key !== keyOf(row))
    return false;
  return el("span", { class: "ids doubt" }, doubtText(lead.rows[place]));
}

const doubtText = (one) => `against the next: ${one.sure} (ahead in about ${fixed(100 * one.ahead, 0)} of 100)`;

// changedSince says whether the lead is of other weights and limits than those that are set.
const changedSince = () => (source.live ? leadFor !== JSON.stringify([state.weights, state.limits]) : changed());
let leadFor = null;

// variantsOf folds the builds that share a row's motor, prop and pack.
function variantsOf(row, ranking, place, wire) {
  const n = ranking.variants[place],
    box = el("ul", {});
  return el(
    "details",
    {
      class: "variants",
      ontoggle: (event) => {
        if (!event.target.open || box.childElementCount) return;
        const key = rowKey(row),
          others = ranking.kept.filter((other) => other !== row && rowKey(other) === key);
        replace(
          box,
          others.slice(0, pageful).map((other) =>
            el(
              "li",
              {},
              `${variantText(row, other)}: score ${fixed(ranking.scores[other], 1)}, ${brief(other)} `,
              button("Sheet", () => wire.open(other), { "aria-label": `Bench sheet of ${nameOf(other)}` }),
            ),
          ),
          others.length > pageful && el("li", {}, `and ${grouped(others.length - pageful)} more`),
        );
      },
    },
    el("summary", {}, variantsText(n)),
    box,
  );
}

// variantText names the parts in which a variant differs.
function variantText(row, other) {
  const one = partsOf(row),
    two = partsOf(other);
  const said = kinds.filter((kind) => one[kind].id !== two[kind].id).map((kind) => `${kind} ${two[kind].id}`);
  return said.join(", ") || "other extras";
}

// variantsText says how many builds share a row's motor, prop and pack.
const variantsText = (n) => `${grouped(n)} ${n > 1 ? "variants" : "variant"}: other board, frame or twin pack`;

// ids are the names of parts, broken between them alone where there is room.
const ids = (...parts) => parts.flatMap((part) => [el("span", {}, part.id), " "]);

// bar is an axis's value with a bar of its length.
function bar(value) {
  const share = el("span", { class: "bar" });
  share.style.setProperty("--share", value + "%");
  return el("td", { class: "more axis" }, fixed(value, 0), share);
}

// brief is what a narrow table says of a row beside its score: amounts first, then ratios.
function brief(row) {
  const said = page.bounds.map((bound, b) => {
    const text = limitText(row, b);
    switch (bound.key) {
      case "hover_throttle_pct":
        return [1, `hover\u00a0${text}\u00a0%`];
      case "thrust_to_weight":
        return [1, `thrust\u00a0${text}\u00a0×`];
    }
    return [0, withUnit(text, bound.unit)];
  });
  return said
    .sort((a, b) => a[0] - b[0])
    .map(([, word]) => word)
    .join(", ");
}
