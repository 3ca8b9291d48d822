// The bench sheet's tables and lists.
// toTake lists the parts of a combination with their pieces.
function toTake(parts) {
  const list = [
    ["motors", parts.motor, parts.rotors],
    ["props", parts.prop, parts.rotors],
    ["pack", parts.pack, 1],
    ["frame", parts.frame, 1],
    ["board", parts.board, 1],
  ];
  return [...list, ...parts.extras.map((extra) => ["extra", extra, 1])].map(([kind, part, pieces]) => ({
    kind,
    part,
    pieces,
    massG: part.massG ? pieces * part.massG : NaN,
  }));
}

function takeTable(taken, row) {
  const sum = taken.reduce((total, t) => total + t.massG, 0),
    up = figureOf(row, "all_up_g");
  const gram = (x) => fixed(x, x < 100 ? 1 : 0);
  return el(
    "table",
    { class: "take" },
    el("caption", { class: "left" }, el("h3", {}, "Take out of the drawer")),
    el(
      "thead",
      {},
      el(
        "tr",
        {},
        ["", "part", "what it is", "pieces", "g each", "g"].map((word, i) =>
          el("th", { scope: "col", class: i < 3 ? "left" : i === 4 && "each" }, word),
        ),
      ),
    ),
    el(
      "tbody",
      {},
      taken.map((t) =>
        el(
          "tr",
          {},
          el("td", { class: "left" }, el("span", { class: "tick" })),
          el("th", { scope: "row" }, t.part.id),
          el(
            "td",
            { class: "left" },
            `${t.kind === "extra" ? "" : t.kind + ": "}${t.part.text}`,
            t.part.mixed && `; take ${t.part.mixed[t.pieces]}`,
          ),
          el("td", {}, String(t.pieces)),
          el("td", { class: "each" }, t.part.massG ? (t.part.guess ? "≈\u00a0" : "") + gram(t.part.massG) : "–"),
          el("td", {}, Number.isNaN(t.massG) ? "–" : gram(t.massG)),
        ),
      ),
    ),
    el(
      "tfoot",
      {},
      el(
        "tr",
        {},
        el("td"),
        el("th", { scope: "row", colspan: 2 }, "all-up" + (interval(up) ? `, likely range ${interval(up)} g` : "")),
        el("td"),
        el("td", { class: "each" }),
        el("td", {}, gram(Number.isNaN(sum) && up ? up.value : sum)),
      ),
    ),
  );
}

// notes are what fits but wants a word, what to mind, what is assumed, and what the drawer says of the
// parts.
function notes(row, taken, limits) {
  const known = detailOf(row) !== null,
    said = notesOf(row);
  said.push(...doubts(row, limits).map((text) => ({ kind: 1, text })));
  const own = taken.filter((t) => t.part.note).map((t) => `${t.part.id}: ${t.part.note}`);
  const block = (title, list, none) => [
    el("h3", {}, title),
    list.length
      ? el(
          "ul",
          {},
          list.map((text) => el("li", {}, text)),
        )
      : el("p", {}, none),
  ];
  const none = !known
    ? source.can("details")
      ? "Being worked out …"
      : `Not worked out in this file: ${page.command.replace(" rank", " explain")} --pick ${keyOf(row)}`
    : "None.";
  return [
    ["Fit", "Watch for", "Assumptions"].map((title, kind) =>
      block(
        title,
        said.filter((n) => n.kind === kind).map((n) => n.text),
        none,
      ),
    ),
    own.length > 0 && el("div", { class: "own" }, block("Your notes", own)),
  ];
}

// before is what to do before the first flight.
function before(row) {
  const cap = figureOf(row, "throttle_cap_pct"),
    curves = curvesOf(row),
    list = [
      "props off; first power-up through a current limiter",
      "motors turn the right way, front left, front right, rear left, rear right",
      "screws do not touch the windings; nothing reaches into the props' circles",
      "pack undamaged, charged watched, every cell full, strapped down",
    ];
  if (cap && cap.value < 99.95)
    list.push(
      `throttle capped at ${fixed(Math.floor(cap.value), 0)} %: without the cap ` +
        `it exceeds the limit of the ${curves.limit.name}`,
    );
  if (curves && curves.cell.length)
    list.push(
      `alarm set to ${fixed(curves.cell[curves.cell.length - 1][1], 2)} V a cell, ` +
        `timer to ${plain(figureOf(row, "style_minutes"))} min`,
    );
  const up = figureOf(row, "all_up_g"),
    classG = 250;
  if (up && up.low < classG && classG < up.high)
    list.push(`weighed: ${interval(up)} g may fall on either side of ${classG} g, a class limit in many places`);
  list.push(
    "clear of people, indoors behind a net; the place, who is near and the weight class are allowed by local rules",
  );
  return list;
}

// fitPage finds the largest print on which the sheet takes one page of A4 or letter.
function fitPage(target) {
  const most = (248 / 25.4) * 96;
  target.classList.add("measure");
  document.documentElement.classList.remove("lean-print");
  for (let size = 10.5; size >= 6; size -= 0.25) {
    target.style.setProperty("--print-size", size + "pt");
    if (target.offsetHeight <= most) break;
  }
  if (target.offsetHeight > most) target.querySelectorAll(".own").forEach((block) => block.classList.add("lean"));
  target.classList.remove("measure");
}
