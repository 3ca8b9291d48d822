// readings is the place of what was measured: the reading that a craft needs most is asked for first, learned from at
// once, and what it changed is said.
const readingKeys = [
  ["all_up_g", "Weight ready to fly, pack on board", "g"],
  ["hover_throttle_pct", "Throttle in hover, as the display shows it", "%"],
  ["hover_current_a", "Current in hover", "A"],
  ["hover_rpm", "Rotor speed in hover, mean of all rotors", "rpm"],
  ["flight_minutes", "Flying time from a full pack, minutes or 5:20", "min"],
  ["used_mah", "Charge put back after that flight", "mAh"],
  ["end_pack_v", "Pack voltage at landing, in flight", "V"],
  ["punch_current_a", "Current at full throttle, in a short punch", "A"],
  ["punch_pack_v", "Pack voltage at full throttle, in a short punch", "V"],
  ["top_speed_mps", "Top speed in level flight", "m/s"],
];
const readingChoices = {
  throttle_kind: ["output", "thrust", "signal"],
  hover_rpm_from: ["telemetry", "heard"],
};
let learnedBox = null,
  readingOf = ""; // the craft's name

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
  const craft = () => crafts[Number(choice.value)];
  const found = (learnedBox = learnedBox || el("div", { id: "learned", "aria-live": "polite" })),
    form = el("div", { id: "reading-form" });
  const choice = el(
    "select",
    {
      id: "reading-of",
      onchange: () => {
        readingOf = craft().name;
        replace(found);
        asks();
      },
    },
    crafts.map((one, i) =>
      el("option", { value: String(i), selected: one.name === readingOf }, one.flies ? one.name : `${one.name}`),
    ),
  );
  const cheapest = lead && (lead.settle.find((one) => one.cheapest) || lead.settle[0]);
  const file = el("input", {
    type: "file",
    id: "flight-file",
    hidden: true,
    accept: ".csv,.txt,.tsv,.log,text/csv,text/plain",
    onchange: () => {
      if (file.files.length) openFlight(craft(), file.files[0]);
      file.value = "";
    },
  });
  replace(
    target,
    el("h2", { tabindex: "-1" }, "Readings"),
    el("p", { class: "tools" }, el("label", { for: "reading-of" }, "Craft"), choice),
    form,
    found,
    el(
      "p",
      { class: "tools" },
      button(
        "Listen to a hover",
        () => {
          listenTo = craft().name;
          heardBox = null;
          go("listen");
        },
        { id: "listen-open" },
      ),
      button("Open a flight file", () => file.click(), { id: "flight-open" }),
      file,
      undoButton(found),
    ),
    cheapest &&
      el(
        "details",
        {},
        el("summary", {}, "What would decide between the first two builds"),
        bullets([cheapest, ...lead.settle.filter((one) => one !== cheapest)].map((one) => one.measure)),
      ),
  );
  await asks();

  // asks shows the form of the craft: what it needs most first, all else folded.
  async function asks() {
    const of = craft();
    let questions = [];
    replace(form, el("p", {}, "Looking for the reading that helps most …"));
    try {
      questions = (await source.ask("record", { pick: pickOf(of) })).questions;
    } catch (fault) {
      if (fault.name === "AbortError") return;
      replace(form, el("p", { class: "danger" }, fault.message));
    }
    if (craft() !== of) return;
    const asked = questions.flatMap((one) => [one, ...(one.with || [])]).filter((one) => one.key !== "note");
    const known = readingKeys.map(([key, text, unit]) => ({ key, text, unit }));
    const firstOnes = questions.length ? [questions[0], ...(questions[0].with || [])] : [known[0]];
    const others = [...asked, ...known].filter(
      (one, i, all) =>
        !firstOnes.some((other) => other.key === one.key) && all.findIndex((other) => other.key === one.key) === i,
    );
    const draft = drafts.of(of.name),
      fields = new Map();
    const keep = () =>
      drafts.put(of.name, Object.fromEntries([...fields].map(([key, field]) => [key, field.value]).filter(([, v]) => v)));
    const field = ({ key, text, unit }, lead) => {
      const id = `reading-${key}`,
        options = key === "flown" ? ["hover", "cruise", "hard", page.style] : readingChoices[key];
      const input = options
        ? el(
            "select",
            { id, onchange: keep },
            el("option", { value: "" }, "–"),
            [...new Set(options)].map((word) => el("option", { value: word, selected: draft[key] === word }, word)),
          )
        : el("input", { id, type: "text", inputmode: "decimal", autocomplete: "off", oninput: keep });
      if (!options && draft[key]) input.value = draft[key];
      fields.set(key, input);
      return el(
        "div",
        { class: lead ? "reading lead" : "reading" },
        el("label", { for: id }, text),
        input,
        el("span", {}, unit || ""),
      );
    };
    const lead = firstOnes.map((one, i) => field(one, i === 0)),
      rest = others.map((one) => field(one));
    const date = el("input", { id: "reading-date", type: "text", size: 10, value: draft.date || today() }),
      note = el("input", {
        id: "reading-note",
        autocomplete: "off",
        maxlength: 400,
        value: draft.note || "",
        oninput: keep,
      });
    fields.set("note", note);
    const typedAny = others.some((one) => draft[one.key]);
    replace(
      form,
      el(
        "form",
        {
          onsubmit: async (event) => {
            event.preventDefault();
            const given = [...fields]
              .filter(([, input]) => input.value.trim())
              .map(([key, input]) => [key, key === "note" ? input.value.trim() : typedNumber(input.value)]);
            if (!given.some(([key]) => readingKeys.some(([other]) => other === key) || askedNumber(key)))
              return replace(found, el("p", {}, "Enter at least one reading."));
            if (date.value.trim()) given.push(["date", date.value.trim()]);
            drafts.put(of.name, {});
            readingOf = of.name;
            if (!(await keepsReadings(of, given, found))) keep();
          },
        },
        el("h3", {}, questions.length ? "Read this next" : "Enter what you read"),
        lead,
        el("p", { class: "tools" }, el("button", { class: "large" }, "Keep and learn from it")),
        el(
          "details",
          { open: typedAny },
          el("summary", {}, "Other readings, day and note"),
          rest,
          el("div", { class: "reading" }, el("label", { for: "reading-date" }, "Day"), date, el("span", {}, "")),
          el("div", { class: "reading" }, el("label", { for: "reading-note" }, "Note"), note, el("span", {}, "")),
        ),
      ),
    );
    const askedNumber = (key) => !["note", "flown", "throttle_kind", "hover_rpm_from"].includes(key);
  }
}
