// flight is the view of a flight file: what was read, where the hover is, and what goes into the log.
let flightFile = null, // {craft, file, columns, flown, weight}
  flightShown = null;

// openFlight opens a file as a flight of a craft.
function openFlight(craft, file) {
  const weight = drafts.of(craft.name).all_up_g || "",
    massG = Number(typedNumber(weight));
  flightFile = {
    craft,
    file,
    columns: {},
    units: {},
    flown: "",
    weight: massG >= 5 && massG <= 20000 ? weight : "",
    date: today(),
  };
  go("flight");
}

const mostFlightBytes = 100e6;

async function flight() {
  const target = byId("flight"),
    of = flightFile;
  const head = [
    el("p", { class: "tools" }, button("Back", back)),
    el("h2", { tabindex: "-1" }, of ? `Flight of ${of.craft.name}` : "Flight file"),
  ];
  if (!page || !of) return replace(target, head, el("p", {}, "Open a flight file from the readings."));
  if (flightShown === of && target.childElementCount > 2) return;
  flightShown = of;
  const box = el("div", { id: "flight-told", "aria-live": "polite" });
  replace(target, head, el("p", {}, `${of.file.name}, ${fileSize(of.file.size)}`), box);
  if (of.file.size > mostFlightBytes)
    return replace(
      box,
      el(
        "p",
        { class: "danger" },
        `At most ${mostFlightBytes / 1e6} MB are read here. Cut the file to one flight, or export fewer columns.`,
      ),
    );
  await readsFlight(of, box);
}

const fileSize = (bytes) =>
  bytes >= 1e6 ? `${fixed(bytes / 1e6, 1)} MB` : bytes >= 1e3 ? `${fixed(bytes / 1e3, 0)} kB` : `${bytes} bytes`;

async function readsFlight(of, box) {
  const columns = Object.entries(of.columns)
    .filter(([, number]) => number)
    .map(([quantity, number]) => `${quantity}=${number}${of.units[quantity] ? ` [${of.units[quantity]}]` : ""}`);
  const options = {
    file: of.file.name,
    pick: pickOf(of.craft),
    columns,
    date: of.date,
    flown: of.flown,
    weight: typedNumber(of.weight),
    rate_hz: Number(typedNumber(of.rate || "")) || 0,
    poles: Math.round(Number(typedNumber(of.poles || ""))) || 0,
  };
  const answer = await work("flight", options, "Reading the file", of.file);
  if (flightFile !== of) return;
  if (!answer) {
    if (!box.childElementCount)
      replace(
        box,
        el("p", {}, "Nothing was read."),
        button("Read it again", () => readsFlight(of, box)),
      );
    return;
  }
  if (answer.faults.length > 0) return flightFaults(of, box, answer);
  replace(
    box,
    el("p", {}, answer.words.Title),
    flightPlot(answer),
    bullets(answer.words.Hover),
    figuresRead(answer),
    answer.notes.length > 0 && [el("h3", {}, "Watch for"), bullets(answer.notes)],
    flightForm(of, box, answer),
    el(
      "details",
      {},
      el("summary", {}, "Columns, and what was not found"),
      bullets(
        answer.columns.map(
          (one) =>
            `${nameOfQuantity(answer, one.quantity)}: column ${one.number}, “${clipped(one.heading)}”` +
            `${one.unit ? `, in ${one.unit}` : ""}, ${plainNumber(one.low)} to ${plainNumber(one.high)}` +
            (one.how === "range" ? "; told by its values, check it" : ""),
        ),
      ),
      bullets([...(answer.words.Absent || []), ...(answer.words.Pack || [])]),
      columnChoices(of, box, answer),
    ),
  );
}

const clipped = (text) => (text.length > 40 ? text.slice(0, 40) + "…" : text);
const plainNumber = (x) => String(x).replace("-", "−");
const nameOfQuantity = (answer, key) => (answer.quantities.find((one) => one.key === key) || { name: key }).name;

// faultWords are for faults that the command line mends by a flag.
const faultWords = {
  "series.no_time": "No column of time was found. Choose it below, or say how many rows a second has.",
  "series.no_columns": "No column of volts, amps, throttle or rpm was found. Choose them below.",
  "series.time_stands": "The column taken for time does not rise. Choose another below.",
  "series.restarts": "The column taken for time keeps jumping back. Choose another below.",
  "series.too_slow": "Rows are too far apart for a flight. If time is in another unit, choose it below.",
  "series.too_short": "The whole file is shorter than a flight. If time is in another unit, choose it below.",
  "series.time_unit": "The unit of time cannot be told. Choose it below.",
  "series.no_flight":
    "No flight was found: nothing stays well over idle for 3 seconds. Check below which column is what.",
};

// flightFaults says why a file could not be read, and lets columns be named where it has some.
function flightFaults(of, box, answer) {
  replace(
    box,
    el("p", { class: "danger" }, "This file could not be read as a flight:"),
    bullets(
      answer.faults.map((one) => faultWords[one.code] || (one.line > 0 ? `Line ${one.line}: ` : "") + capital(one.text)),
    ),
    answer.headings.length > 1
      ? [
          el("h3", {}, "Which column is what"),
          columnChoices(of, box, answer),
        ]
      : el("p", {}, "Open a text file of columns, as a flight controller or a logger exports it (CSV)."),
  );
}

const namedQuantities = ["time", "volts", "amps", "throttle", "rpm", "speed"];
const writtenUnits = {
  time: ["s", "ms", "us"],
  volts: ["V", "mV"],
  amps: ["A", "mA"],
  speed: ["m/s", "km/h", "mph"],
};

// columnChoices are a choice of column for each quantity.
function columnChoices(of, box, answer) {
  const used = new Map((answer.columns || []).map((one) => [one.quantity, String(one.number)]));
  return el(
    "form",
    {
      class: "columns-of",
      onsubmit: (event) => {
        event.preventDefault();
        readsFlight(of, box);
      },
    },
    namedQuantities.map((quantity) => {
      const id = `column-${quantity}`,
        chosen = of.columns[quantity] || used.get(quantity) || "",
        units = writtenUnits[quantity];
      return el(
        "div",
        { class: "reading" },
        el("label", { for: id }, capital(nameOfQuantity(answer, quantity))),
        el(
          "select",
          {
            id,
            onchange: (event) => {
              of.columns[quantity] = event.target.value;
            },
          },
          el("option", { value: "" }, "not said"),
          answer.headings.map((heading, i) =>
            el(
              "option",
              { value: String(i + 1), selected: chosen === String(i + 1) },
              `${i + 1}: ${clipped(heading) || "without a heading"}`,
            ),
          ),
        ),
        units
          ? el(
              "select",
              {
                "aria-label": `Unit of ${nameOfQuantity(answer, quantity)}`,
                onchange: (event) => {
                  of.units[quantity] = event.target.value;
                },
              },
              el("option", { value: "" }, "unit?"),
              units.map((unit) => el("option", { value: unit, selected: of.units[quantity] === unit }, unit)),
            )
          : el("span", {}, ""),
      );
    }),
    [
      ["rate", "Rows in a second, if there is no column of time"],
      ["poles", "Magnets in a motor's bell, if rpm is electrical"],
    ].map(([key, text]) =>
      el(
        "div",
        { class: "reading" },
        el("label", { for: `flight-${key}` }, text),
        el("input", {
          id: `flight-${key}`,
          type: "text",
          inputmode: "decimal",
          autocomplete: "off",
          value: of[key] || "",
          onchange: (event) => {
            of[key] = event.target.value;
          },
        }),
        el("span", {}, ""),
      ),
    ),
    el("p", { class: "tools" }, el("button", {}, "Read it so")),
  );
}

// figuresRead are the readings with their likely ranges.
function figuresRead(answer) {
  return el(
    "table",
    { class: "change" },
    el("caption", { class: "left" }, "Read from the flight"),
    el(
      "thead",
      {},
      el(
        "tr",
        {},
        ["", "value", "likely range"].map((word) => el("th", { scope: "col", class: word ? "" : "left" }, word)),
      ),
    ),
    el(
      "tbody",
      {},
      answer.figures
        .filter((one) => one.value !== null)
        .map((one) =>
          el(
            "tr",
            {},
            el("th", { scope: "row", class: "left" }, one.name),
            el("td", {}, withUnit(plain(one), one.unit)),
            el("td", {}, interval(one)),
          ),
        ),
    ),
  );
}

// flightForm asks for what the file does not say, and keeps the entry.
function flightForm(of, box, answer) {
  const again = (key) => (event) => {
    of[key] = event.target.value.trim();
    readsFlight(of, box);
  };
  const ways = [...new Set(["hover", "cruise", "hard", page.style])];
  const learned = answer.learned;
  return el(
    "div",
    { id: "flight-keep" },
    el("h3", {}, "Into the log"),
    el(
      "div",
      { class: "reading" },
      el("label", { for: "flight-weight" }, "Weight as flown, pack on board"),
      el("input", {
        id: "flight-weight",
        type: "text",
        inputmode: "decimal",
        autocomplete: "off",
        value: of.weight,
        onchange: again("weight"),
      }),
      el("span", {}, "g"),
    ),
    el(
      "div",
      { class: "reading" },
      el("label", { for: "flight-flown" }, "How it was flown"),
      el(
        "select",
        { id: "flight-flown", onchange: again("flown") },
        el("option", { value: "" }, "not said"),
        ways.map((word) => el("option", { value: word, selected: of.flown === word }, word)),
      ),
      el("span", {}, ""),
    ),
    el(
      "div",
      { class: "reading" },
      el("label", { for: "flight-date" }, "Day"),
      el("input", { id: "flight-date", type: "text", value: of.date, onchange: again("date") }),
      el("span", {}, ""),
    ),
    answer.file
      ? [
          learned &&
            learned.readings.length > 0 &&
            el("details", {}, el("summary", {}, "What it teaches"), bullets(learned.readings.map(readingTold))),
          learned && learned.misfits.length > 0 && bullets(learned.misfits),
          el(
            "p",
            { class: "tools" },
            button(
              "Keep and learn",
              async () => {
                const { craft } = of;
                learnedBox = el("div", { id: "learned", "aria-live": "polite" });
                readingOf = craft.name;
                go("readings");
                if (await keepsAndLearns(`flight of ${craft.name}`, answer.file, craft, learnedBox)) flightFile = null;
              },
              { id: "flight-save", class: "large" },
            ),
          ),
        ]
      : el("p", {}, "Nothing in it can be learned from yet: see above."),
  );
}

// flightPlot draws throttle and current over time, with the stretches of hover shaded and lettered below.
function flightPlot(answer) {
  const traces = [
    ["throttle, %", answer.plot.throttle_pct, answer.plot.hover_throttle_pct],
    ["current, A", answer.plot.current_a, answer.plot.hover_current_a],
  ].filter(([, list]) => list.some(([low]) => low !== null));
  if (!traces.length) return null;
  const width = Math.max(Math.min(byId("flight").clientWidth - 2, 900), 260),
    step = answer.plot.step_s,
    hovers = answer.hover.stretches.filter((one) => one.verdict === "hover"),
    whole = step * Math.max(...traces.map(([, list]) => list.length));
  const plots = traces.map(([label, list, level], i) => {
    const target = svg("svg", { "aria-hidden": "true" }),
      top = Math.max(...list.map(([, high]) => high ?? 0), 1),
      last = i === traces.length - 1;
    const f = frame(
      target,
      width,
      last ? 170 : 140,
      { low: 0, high: whole, ...(last ? { label: "time, s" } : {}) },
      { low: 0, high: 1.05 * top, label },
    );
    for (const one of hovers) {
      const x = f.px(one.from_s);
      target.append(
        svg("rect", {
          class: "hovering",
          x,
          y: f.py(1.05 * top),
          width: Math.max(f.px(one.to_s) - x, 2),
          height: f.py(0) - f.py(1.05 * top),
        }),
      );
    }
    let d = "";
    list.forEach(([low, high], k) => {
      if (low === null) return;
      const x = f.px((k + 0.5) * step).toFixed(1),
        open = k === 0 || list[k - 1][0] === null;
      d += `${open ? "M" : "L"}${x} ${f.py(low).toFixed(1)}L${x} ${f.py(high).toFixed(1)}`;
    });
    target.append(svg("path", { class: "trace", d }));
    if (level !== null)
      target.append(svg("path", { class: "level", d: `M${f.px(0)} ${f.py(level)}H${f.px(whole)}` }));
    return el("div", { class: "plot" }, target);
  });
  const said = hovers.length
    ? `Hover is shaded: ${words(hovers.slice(0, 6).map((one) => `${one.from_s} to ${one.to_s} s`))}` +
      `${hovers.length > 6 ? " and more" : ""}. The broken line is its mean.`
    : "No stretch was taken for hover.";
  return el(
    "figure",
    { role: "img", "aria-label": `${words(traces.map(([label]) => label))} over ${fixed(whole, 0)} s. ${said}` },
    plots,
    el("figcaption", {}, said),
  );
}
