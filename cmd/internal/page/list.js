
// list shows the ranking; wire is what its controls call.
function list(state, ranking, wire) {
  const shown = ranking.heads.slice(0, state.shown), full = state.picks.length >= letters.length;
  byId("rows").replaceChildren(...shown.map((row, place) => line(row, place, ranking, state, full, wire)));
  const left = ranking.heads.length - shown.length;
  byId("more").hidden = left <= 0;
  byId("more").textContent = `Show ${Math.min(left, wire.pageful)} more of ${grouped(left)}`;
}

function line(row, place, ranking, state, full, wire) {
  const parts = partsOf(row), pick = state.picks.indexOf(row), name = nameOf(row);
  const box = el("input", {
    type: "checkbox", "aria-label": `compare number ${place + 1}, ${name}`, disabled: full && pick < 0,
    onchange: () => wire.pick(row),
  });
  box.checked = pick >= 0;
  return el("tr", { class: pick >= 0 && "picked", "data-row": row },
    el("td", {}, box, pick >= 0 && mark(pick)),
    el("td", {}, String(place + 1)),
    el("th", { scope: "row" },
      el("span", { class: "ids" }, ids(parts.motor, parts.prop)),
      el("span", { class: "ids" }, ids(parts.pack, parts.frame, parts.board)),
      el("span", { class: "ids brief" }, brief(row)),
      ranking.variants[place] > 0 && el("span", { class: "ids" }, variantsText(ranking.variants[place]))),
    el("td", { class: "score" }, fixed(ranking.scores[row], 1), el("button", { type: "button", "aria-label": `Bench sheet of number ${place + 1}`, onclick: () => wire.open(row) }, "Sheet")),
    rows.axes.map((axis) => bar(axis[row])),
    page.bounds.map((_, b) => el("td", { class: "more" }, limitText(row, b))));
}

// variantsText says how many builds share a row's motor, prop and pack.
const variantsText = (n) => `or with another board, frame or twin pack: ${grouped(n)} ${n > 1 ? "variants" : "variant"}`;

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
  const words = page.bounds.map((bound, b) => {
    const text = limitText(row, b);
    switch (bound.key) {
      case "hover_throttle_pct": return [1, `hover\u00a0${text}\u00a0%`];
      case "thrust_to_weight": return [1, `thrust\u00a0${text}\u00a0×`];
    }
    return [0, withUnit(text, bound.unit)];
  });
  return words.sort((a, b) => a[0] - b[0]).map(([, word]) => word).join(", ");
}
