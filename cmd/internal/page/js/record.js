// What becomes of a craft's readings: they go into the drawer's log, are learned from, and what changed is said.

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

// craftsKnown are the crafts that a reading may be of: the fleet, the latest first, then what is open, what is ticked,
// and the first build.
async function craftsKnown() {
  const listed = await source.ask("parts").catch(() => null),
    fleet = ((listed && listed.fleet) || []).map((craft) => ({ ...craft, flies: true }));
  const rows = [
    ...new Set([state.build, ...state.picks, ranking.kept[0]].filter((row) => row !== null && row !== undefined)),
  ].map(craftOf);
  return fleet.reverse().concat(rows.filter((row) => !fleet.some((craft) => pickOf(craft) === pickOf(row))));
}

// today is the day where the browser is.
const today = () => {
  const now = new Date(),
    two = (n) => String(n).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
};

// typedNumber is a value as typed, with a point for a comma; commas between thousands are left out.
const typedNumber = (text) => {
  const value = text.trim();
  if (/^\d{1,3}(,\d{3})+(\.\d+)?$/.test(value) && !/^0/.test(value)) return value.replaceAll(",", "");
  return value.replace(/^(\d+),(\d+)/, "$1.$2");
};

// Drafts are what was typed and not kept yet, by what it belongs to; they outlive a reload.
const drafts = {
  all() {
    try {
      return JSON.parse(localStorage.getItem(drawer.key + " drafts")) || {};
    } catch {
      return {};
    }
  },
  of: (what) => drafts.all()[what] || {},
  put(what, values) {
    const all = drafts.all();
    if (Object.values(values).some((value) => value)) all[what] = values;
    else delete all[what];
    try {
      localStorage.setItem(drawer.key + " drafts", JSON.stringify(all));
    } catch {
      // Without room, what is typed lasts as long as the page.
    }
  },
};

// figuresOf are figures of a craft as the drawer in hand has them.
async function figuresOf(craft) {
  const answer = await source.ask("details", { picks: [pickOf(craft)] }).catch(() => null);
  if (!answer) return null;
  const batch = batchOf(answer.details);
  return (key) => {
    const column = batch.values[figureAt.get(key)],
      value = column.value[0];
    return Number.isNaN(value) ? null : { value, low: value - column.below[0], high: value + column.above[0] };
  };
}

// moved says in one line how a figure changed: hover throttle 31 (25 to 38) → 27 (26 to 28) %.
function moved(key, before, after) {
  const figure = page.figures.find((one) => one.key === key),
    was = before && before(key),
    is = after && after(key);
  if (!figure || !is) return null;
  if (!was) return `${figure.name} ${withUnit(ranged(is), figure.unit)}`;
  return `${figure.name} ${ranged(was)} → ${withUnit(ranged(is), figure.unit)}`;
}

const toldFigures = ["hover_throttle_pct", "style_minutes", "thrust_to_weight"];

// keepsReadings puts readings, [[key, typed]], into the log by the engine's hand, learns from them, and says what
// changed. It reports whether they were kept.
async function keepsReadings(craft, given, found) {
  const readings = given.map(([key, typed]) => ({ key, typed }));
  const answer = await work("record", { pick: pickOf(craft), readings }, "Writing it down");
  if (!answer) {
    replace(found, el("p", {}, "Nothing was kept; what you typed still stands."));
    return false;
  }
  return keepsAndLearns(`reading of ${craft.name}`, answer.file, craft, found, answer.checks);
}

// keepsAndLearns takes a drawer's text with a craft's reading more in its log, learns from it, and says what changed.
async function keepsAndLearns(what, text, craft, found, checks = []) {
  const before = await figuresOf(craft),
    sureBefore = lead && lead.sure,
    first = page && ranking.kept.length ? nameOf(ranking.kept[0]) : "";
  drawer.changes(what, text);
  const answer = await work("learn", { brief: true }, "Learning from it");
  if (!answer) {
    drawer.undo();
    replace(found, el("p", {}, "Nothing was kept; what you typed still stands."));
    return false;
  }
  if (answer.file) {
    source.held.learned = { name: source.held.name.replace(/\.ya?ml$/, "") + ".learned.yaml", text: answer.file };
    drawer.keep();
  }
  const after = await figuresOf(craft),
    changes = toldFigures.map((key) => moved(key, before, after)).filter(Boolean),
    entry = answer.entries[answer.entries.length - 1];
  const read = entry ? entry.readings.map(readingTold) : [];
  await opens();
  if (state && state.view === "readings") await readings();
  const now = page && ranking.kept.length ? nameOf(ranking.kept[0]) : "",
    sure = lead && lead.sure !== sureBefore ? " " + lead.sure : "";
  replace(
    found,
    el("h3", { tabindex: "-1" }, "Kept. What changed"),
    changes.length > 0 && el("p", {}, el("strong", {}, capital(changes.join("; ")) + ".")),
    el(
      "p",
      {},
      (first === now ? `The first build stays ${now}.` : `The first build is now ${now}; it was ${first}.`) + sure,
    ),
    bullets(checks),
    el("p", { class: "tools" }, undoButton(found)),
    el(
      "details",
      {},
      el("summary", {}, "What was read, and what it says of the parts"),
      bullets(read),
      bullets(
        answer.parts
          .filter((part) => craft.parts[part.kind] === part.id)
          .map((part) => part.text)
          .filter(Boolean),
      ),
      bullets(answer.misfits.map((one) => one.text)),
      answer.left_out && answer.left_out.text && el("p", {}, answer.left_out.text),
    ),
  );
  found.scrollIntoView({ behavior: "instant", block: "center" });
  found.querySelector("h3").focus({ preventScroll: true });
  return true;
}

// readingNames are names and units of readings that are no figure of a build.
const readingNames = {
  flight_minutes: ["flying time", "min"],
  hover_pack_v: ["pack voltage in hover", "V"],
  hover_rpm: ["rotor speed in hover", "rpm"],
  punch_rpm: ["rotor speed in a punch", "rpm"],
  punch_current_a: ["current in a punch", "A"],
  punch_pack_v: ["pack voltage in a punch", "V"],
  loaded_cell_v: ["one cell in a punch", "V"],
  pack_resistance_mohm: ["pack resistance in flight", "mΩ"],
  landing_cell_v: ["one cell at landing", "V"],
  end_pack_v: ["pack voltage at landing", "V"],
  top_speed_mps: ["top speed", "m/s"],
};

// readingTold is a reading beside what was expected and is now.
function readingTold(one) {
  const figure = page.figures.find((f) => f.key === one.key) || {},
    [name, unit] = readingNames[one.key] || [figure.name || one.key, figure.unit || ""];
  const of = (f) => (f && f.value !== null ? withUnit(ranged(f), unit) : "–");
  const doubt = one.fits ? "" : "; they do not fit together, check the reading";
  return `${name}: read ${one.measured}; expected ${of(one.before)}, now ${of(one.after)}${doubt}`;
}

// undoButton takes back the last change of the drawer.
function undoButton(found) {
  const last = drawer.past[drawer.past.length - 1];
  return (
    last &&
    button(`Undo: ${last.what}`, async () => {
      drawer.undo();
      if (found) replace(found, el("p", {}, `Undone: ${last.what}.`));
      await opens();
      if (state && state.view === "readings") await readings();
    })
  );
}

// takesIntoFleet puts a build into the fleet, its parts out of the counts; the craft, null where that was stopped.
async function takesIntoFleet(craft) {
  const answer = await work("build", { pick: pickOf(craft) }, "Putting it into the fleet");
  if (!answer) return null;
  drawer.changes(`built ${answer.craft}`, answer.file);
  return { name: answer.craft, parts: answer.parts, flies: true, keeps: answer.keeps };
}

// built puts a build into the fleet and leads to its readings.
async function built(row) {
  const craft = await takesIntoFleet(craftOf(row));
  if (!craft) return;
  readingOf = craft.name;
  learnedBox = el("div", { id: "learned", "aria-live": "polite" });
  replace(
    learnedBox,
    el("p", {}, `${craft.name} is in the fleet. `, countsTold(craft)),
    el("p", { class: "tools" }, undoButton(learnedBox)),
  );
  await opens();
  go("readings");
}

const countsTold = (craft) =>
  craft.keeps
    ? "Its parts are out of the drawer's counts."
    : "Its parts stay counted in the drawer: the counts are too low, or are not written one a line.";
