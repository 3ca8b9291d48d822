// card is the table of the first flight: what is expected, and boxes for what is read. With the engine inside the boxes
// are fields, and what is written in them becomes readings of the craft.
function card(row) {
  const curves = curvesOf(row),
    cap = figureOf(row, "throttle_cap_pct"),
    fields = source.live ? cardFields(row) : null;
  const capped = cap && cap.value < 99.95 ? ` at the cap of ${fixed(Math.floor(cap.value), 0)} %` : "";
  const line = (what, expected, between, key) =>
    tableRow(
      {},
      el("th", { scope: "row", role: "rowheader" }, what),
      [expected || "–", between].map((text) => el("td", { role: "cell" }, text)),
      el("td", { role: "cell", class: "box" }, fields && key && fields.field(key, what)),
      el("td", { role: "cell", class: "box second" }),
    );
  const known = (what, unit, key, as = key) => {
    const figure = figureOf(row, key);
    return line(what, figure && withUnit(plain(figure), unit), interval(figure), as);
  };
  const volts = (what, v, key) => line(what, v && "about " + withUnit(fixed(v, 2), "V"), "", key);
  const landing = curves && curves.cell.length > 0 && curves.cell[curves.cell.length - 1][1];
  const table = el(
    "table",
    { class: "flight", role: "table", "aria-label": "First flight" },
    el(
      "thead",
      { role: "rowgroup" },
      tableRow(
        {},
        ["reading", "expected", "likely range", "flight 1", "flight 2"].map((word, i) =>
          el("th", { scope: "col", role: "columnheader", class: i === 0 ? "left" : i === 4 && "second" }, word),
        ),
      ),
    ),
    el(
      "tbody",
      { role: "rowgroup" },
      known("all-up weight on the scale", "g", "all_up_g"),
      known("throttle in hover, pack half empty", "%", "hover_throttle_pct"),
      known("current in hover, pack half empty", "A", "hover_current_a"),
      // Under a cap a punch is not full throttle, and no reading of it.
      volts(
        `one cell on the display in a short punch${capped}, pack full`,
        curves && curves.punchV,
        capped ? undefined : "loaded_cell_v",
      ),
      known(`full pack to landing, flown as ${page.style}`, "min", "style_minutes", "flight_minutes"),
      volts("one cell on the display at landing, in flight", landing, "landing_cell_v"),
      known("charge put back", "mAh", "used_mah"),
      line("motors to the touch after a minute: landed, disarmed, unplugged", "cool to warm", ""),
    ),
  );
  return fields ? [table, fields.keep] : table;
}

// cardFields are the boxes of a card as fields, with what keeps them as readings.
function cardFields(row) {
  const craft = craftOf(row),
    what = "card " + pickOf(craft),
    draft = drafts.of(what),
    inputs = new Map(),
    said = el("div", { class: "card-tools", "aria-live": "polite" });
  const keep = () =>
    drafts.put(what, Object.fromEntries([...inputs].map(([key, input]) => [key, input.value]).filter(([, v]) => v)));
  const keepsAll = async () => {
    const given = [...inputs]
      .filter(([, input]) => input.value.trim())
      .map(([key, input]) => [key, typedNumber(input.value)]);
    if (!given.length) return replace(said, el("p", {}, "Write what you read into the boxes of flight 1 first."));
    const timed = given.some(([key]) => key === "flight_minutes");
    if (!timed && given.some(([key]) => ["used_mah", "landing_cell_v"].includes(key)))
      return replace(
        said,
        el("p", {}, "Charge and landing voltage need the time as well: write how long it flew, in minutes."),
      );
    if (timed) given.push(["flown", page.style]);
    given.push(["date", today()]);
    // The readings are tried before anything changes, so that a wrong one leaves the card as it is.
    const tried = await source
      .ask("record", { pick: pickOf(craft), readings: given.map(([key, typed]) => ({ key, typed })) })
      .catch((fault) => fault);
    if (tried instanceof Error) return replace(said, el("p", { class: "danger" }, tried.message));
    const crafts = await craftsKnown(),
      flies = crafts.find((one) => one.flies && pickOf(one) === pickOf(craft)) || (await takesIntoFleet(craft));
    if (!flies) return;
    drafts.put(what, {});
    learnedBox = el("div", { id: "learned", "aria-live": "polite" });
    readingOf = flies.name;
    go("readings");
    if (!(await keepsReadings(flies, given, learnedBox))) keep();
  };
  return {
    field(key, name) {
      const input = el("input", {
        class: "box",
        type: "text",
        inputmode: "decimal",
        autocomplete: "off",
        "aria-label": `${name}, flight 1`,
        oninput: keep,
      });
      input.value = draft[key] || "";
      inputs.set(key, input);
      return input;
    },
    keep: el(
      "div",
      { class: "card-tools" },
      el("p", { class: "tools" }, button("Keep these readings", () => keepsAll().catch(complain), { class: "large" })),
      said,
    ),
  };
}
