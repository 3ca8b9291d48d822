// readings is the place of what was measured: a number is entered for a craft, learned from at once, and what it
// changed is said.
const readingKeys = [
  ["all_up_g", "weight on the scale, pack on board", "g"],
  ["hover_throttle_pct", "throttle in hover, as the display shows it", "%"],
  ["hover_current_a", "current in hover", "A"],
  ["hover_rpm", "motor rpm in hover", "rpm"],
  ["flight_minutes", "minutes flown, full pack to landing", "min"],
  ["landing_cell_v", "one cell at landing, in flight", "V"],
  ["used_mah", "charge put back", "mAh"],
  ["top_speed_mps", "top speed, level", "m/s"],
];
let learnedBox = null;
async function readings() {
  const target = byId("readings");
  if (!page) {
    if (drawer.stale || !lead) await opens();
    if (!page)
      return replace(
        target,
        el("h2", { tabindex: "-1" }, "Readings"),
        el("p", {}, "There is no build to take readings of yet: add parts first."),
        button("Parts", () => go("parts")),
      );
  }
  const crafts = await craftsKnown();
  const choice = el(
    "select",
    { id: "reading-of" },
    crafts.map((craft, i) => el("option", { value: String(i) }, craft.name)),
  );
  const date = el("input", {
    id: "reading-date",
    type: "text",
    size: 10,
    value: new Date().toISOString().slice(0, 10),
  });
  const note = el("input", { id: "reading-note", autocomplete: "off", maxlength: 400 });
  const inputs = readingKeys.map(([key, what, unit]) => ({
    key,
    what,
    unit,
    input: el("input", { id: `reading-${key}`, type: "text", inputmode: "decimal", autocomplete: "off" }),
  }));
  const found = (learnedBox = learnedBox || el("div", { id: "learned", "aria-live": "polite" })),
    last = drawer.past[drawer.past.length - 1];
  const cheapest = lead && (lead.settle.find((one) => one.cheapest) || lead.settle[0]);
  replace(
    target,
    el("h2", { tabindex: "-1" }, "Readings"),
    cheapest
      ? [
          el(
            "p",
            {},
            "To choose between the first two builds, this reading helps most for its effort: ",
            el("strong", {}, cheapest.measure),
            ".",
          ),
          lead.settle.length > 1 &&
            el(
              "details",
              {},
              el("summary", {}, "Other readings that would help"),
              bullets(lead.settle.filter((one) => one !== cheapest).map((one) => one.measure)),
            ),
        ]
      : el(
          "p",
          {},
          "Whatever you weigh, hover or time makes the next ranking surer: weight and hover throttle are the quickest.",
        ),
    el(
      "form",
      {
        onsubmit: async (event) => {
          event.preventDefault();
          const given = inputs
            .filter(({ input }) => input.value.trim())
            .map(({ key, input }) => [key, Number(input.value.trim().replace(",", "."))]);
          const wrong = inputs.find(({ key }) => given.some(([other, value]) => other === key && !(value > 0)));
          if (wrong)
            return (
              replace(found, el("p", { class: "danger" }, `${capital(wrong.what)}: write a number over 0.`)),
              wrong.input.focus()
            );
          if (!given.length) return replace(found, el("p", {}, "Enter at least one reading."));
          await learnedFrom(crafts[Number(choice.value)], given, date.value, note.value.trim(), found);
        },
      },
      el(
        "p",
        { class: "tools" },
        el("label", { for: "reading-of" }, "Craft"),
        choice,
        el("label", { for: "reading-date" }, "Date"),
        date,
      ),
      inputs.map(({ what, unit, input }) =>
        el("div", { class: "reading" }, el("label", { for: input.id }, what), input, el("span", {}, unit)),
      ),
      el("div", { class: "reading" }, el("label", { for: "reading-note" }, "note"), note),
      el(
        "p",
        { class: "tools" },
        el("button", {}, "Keep and learn from it"),
        button(
          "Listen to a hover",
          () => {
            listenTo = crafts[Number(choice.value)].name;
            heardBox = null;
            go("listen");
          },
          { id: "listen-open" },
        ),
        last &&
          button(`Undo: ${last.what}`, async () => {
            drawer.undo();
            await opens();
            readings();
          }),
      ),
    ),
    found,
  );
}

// craftOf is a build by the ids of its parts.
function craftOf(row) {
  const chosen = partsOf(row);
  return {
    name: nameOf(row),
    parts: {
      ...Object.fromEntries(kinds.map((kind) => [kind, chosen[kind].id])),
      extras: chosen.extras.map((extra) => extra.id),
    },
  };
}

// craftsKnown are the crafts that a reading may be of: what was just built, the fleet, what is ticked, and the first.
async function craftsKnown() {
  const listed = await source.ask("parts").catch(() => null),
    fleet = (listed && listed.fleet) || [];
  const rows = [
    ...new Set([state.build, ...state.picks, ranking.kept[0]].filter((row) => row !== null && row !== undefined)),
  ].map(craftOf);
  return fleet.reverse().concat(rows);
}

// entryOf is a craft's entry in a list of the drawer, as lines of YAML without the dash.
function entryOf(craft, head, rest) {
  return [
    ...head,
    "parts:",
    ...kinds.map((kind) => `  ${kind}: ${JSON.stringify(craft.parts[kind])}`),
    `  extras: [${craft.parts.extras.map((id) => JSON.stringify(id)).join(", ")}]`,
    ...rest,
  ];
}

// appended is a text with an entry more at the end of one of its lists; null where the list is not written as lines.
function appended(text, key, entry) {
  const all = text.replace(/\s*$/, "").split("\n"),
    at = all.findIndex((line) => line.startsWith(key + ":"));
  const dashed = (indent) => entry.map((line, i) => " ".repeat(indent) + (i === 0 ? "- " : "  ") + line);
  if (at < 0) return [...all, "", key + ":", ...dashed(2), ""].join("\n");
  const rest = all[at]
    .slice(key.length + 1)
    .replace(/#.*/, "")
    .trim();
  if (rest !== "" && rest !== "[]") return null;
  let end = at + 1,
    last = at + 1;
  for (
    ;
    end < all.length && (all[end].trim() === "" || all[end][0] === " " || all[end][0] === "#" || all[end][0] === "-");
    end++
  )
    if (all[end].trim() !== "" && all[end][0] !== "#") last = end + 1;
  const first = all.slice(at + 1, last).find((line) => line.trim().startsWith("- "));
  if (rest === "[]") all[at] = key + ":";
  all.splice(last, 0, ...dashed(first ? first.indexOf("-") : 2));
  return all.join("\n") + "\n";
}

// learnedFrom keeps readings in the drawer's log, learns from it, and says what changed.
async function learnedFrom(craft, given, date, note, found) {
  const flown = given.some(([key]) => key === "flight_minutes") ? [`flown: ${JSON.stringify(page.style)}`] : [];
  const text = appended(
    source.held.drawer,
    "log",
    entryOf(craft, date ? [`date: ${JSON.stringify(date)}`] : [], [
      ...given.map(([key, value]) => `${key}: ${value}`),
      ...flown,
      ...(note ? [`note: ${JSON.stringify(note)}`] : []),
    ]),
  );
  if (text === null)
    return replace(
      found,
      el("p", {}, "The log of this drawer is written in one line; write it as lines first, in the drawer as text."),
    );
  await keepsAndLearns(`reading of ${craft.name}`, text, craft, found);
}

// keepsAndLearns takes a drawer's text with a craft's reading more in its log, learns from it, and says what changed.
async function keepsAndLearns(what, text, craft, found) {
  drawer.changes(what.slice(0, 60), text);
  const answer = await work("learn", {}, "Learning from it");
  if (!answer) {
    drawer.undo();
    return replace(found, el("p", {}, "Nothing was kept."));
  }
  if (answer.file) {
    source.held.learned = { name: source.held.name.replace(/\.ya?ml$/, "") + ".learned.yaml", text: answer.file };
    drawer.keep();
  }
  const names = new Map(page.figures.map((figure) => [figure.key, figure])),
    entry = answer.entries[answer.entries.length - 1];
  const said = entry
    ? entry.readings.map((one) => {
        const figure = names.get(one.key === "flight_minutes" ? "style_minutes" : one.key) || {
          name: one.key.replaceAll("_", " "),
          unit: "",
        };
        const of = (f) => (f && f.value !== null ? withUnit(ranged(f), figure.unit) : "–");
        const doubt = one.fits ? "" : "; they do not fit together, check the reading";
        return `${figure.name}: read ${one.measured}; expected ${of(one.before)}, now ${of(one.after)}${doubt}`;
      })
    : [];
  const first = page && ranking.kept.length ? nameOf(ranking.kept[0]) : "";
  await opens();
  await readings();
  const now = page && ranking.kept.length ? nameOf(ranking.kept[0]) : "";
  replace(
    found,
    el("h3", { tabindex: "-1" }, "Kept. What changed"),
    bullets(said),
    el("p", {}, first === now ? `The first build stays ${now}.` : `The first build is now ${now}; it was ${first}.`),
    bullets(
      answer.parts
        .filter((part) => craft.parts[part.kind] === part.id)
        .map((part) => part.text)
        .filter(Boolean),
    ),
    answer.misfits.length > 0 && bullets(answer.misfits.map((one) => one.text)),
    answer.left_out && answer.left_out.text && el("p", {}, answer.left_out.text),
  );
  found.scrollIntoView({ behavior: "instant", block: "center" });
  found.querySelector("h3").focus({ preventScroll: true });
}

// built puts a build into the fleet, takes its parts out of the counts, and leads to its readings.
async function built(row) {
  const craft = craftOf(row),
    rotors = partsOf(row).rotors,
    listed = await work("parts", {}, "Reading the drawer");
  if (!listed) return;
  const taken = new Map([
    ...kinds.map((kind) => [`${kind} ${craft.parts[kind]}`, ["motor", "prop"].includes(kind) ? rotors : 1]),
    ...craft.parts.extras.map((id) => [`extra ${id}`, 1]),
  ]);
  let text = source.held.drawer,
    name = craft.name.split(" ").slice(0, 3).join(" ").slice(0, 56),
    n = 1;
  while ((listed.fleet || []).some((other) => other.name === name + (n > 1 ? ` ${n}` : ""))) n++;
  if (n > 1) name += ` ${n}`;
  for (const part of listed.parts) {
    const pieces = taken.get(`${part.kind} ${part.id}`),
      count = part.keys.count;
    if (pieces && typeof count === "number") text = fewer(text, part, pieces);
  }
  // Where the counts cannot be put right so, the craft stands in the fleet and its parts stay counted.
  const sound = await source.ask("parts", {}, { drawer: text }).then(
      (one) => one.faults.length === 0,
      () => false,
    ),
    rest = sound ? [] : ["keeps: false"];
  if (!sound) text = source.held.drawer;
  text = appended(text, "fleet", entryOf(craft, [`name: ${JSON.stringify(name)}`], rest));
  if (text === null)
    return complain(
      new Error("The fleet of this drawer is written in one line; write it as lines first, in the drawer as text."),
    );
  drawer.changes(`built ${name}`.slice(0, 60), text);
  await opens();
  go("readings");
}

// fewer is a text in which a part has some pieces less, of each direction as many.
function fewer(text, part, pieces) {
  const block = drawer.blockOf(text, part.line),
    all = text.split("\n");
  const less = (key, by) => {
    const at = all.findIndex(
      (line, i) => i >= block.from && i < block.to && new RegExp(`(^|[\\s{,])${key}:\\s*\\d`).test(line),
    );
    if (at >= 0)
      all[at] = all[at].replace(
        new RegExp(`((?:^|[\\s{,])${key}:\\s*)(\\d+)`),
        (_, head, n) => head + Math.max(Number(n) - by, 0),
      );
  };
  if (!block) return text;
  less("count", pieces);
  if (part.keys.directions) for (const way of ["cw", "ccw"]) less(way, pieces / 2);
  return all.join("\n");
}
