// listen is the view where a craft's hover is heard: from a file, or through the microphone.
let listenTo = "", // the craft's name
  heardBox = null; // what was heard last

const beforeListening = [
  "Phone on the ground, 1 to 3 m to the side of the craft. You stand well back; nobody level with the props.",
  "Props of 4 inch and up: outdoors only. Follow local rules.",
  "Pack charged, craft as it flies. Hover still for 10 s, over four diameters high: no yaw, no wind, no wall near.",
  "Never run full throttle on a bench for a sound.",
];

async function listen() {
  const target = byId("listen");
  if (!page)
    return replace(target, el("h2", { tabindex: "-1" }, "Listen to a hover"), el("p", {}, "Add parts first."));
  const crafts = await craftsKnown();
  heardBox = heardBox || el("div", { id: "heard", "aria-live": "polite" });
  const known = el("div", { id: "listen-known" }),
    level = el("div", { id: "listen-level" }),
    choice = el(
      "select",
      {
        id: "listen-of",
        onchange: () => {
          listenTo = crafts[Number(choice.value)].name;
          weight.value = "";
          replace(heardBox);
          expects();
        },
      },
      crafts.map((craft, i) => el("option", { value: String(i), selected: craft.name === listenTo }, craft.name)),
    ),
    weight = el("input", { id: "listen-weight", type: "text", inputmode: "decimal", autocomplete: "off", size: 7 });
  const craft = () => crafts[Number(choice.value)],
    options = () => ({
      pick: pickOf(craft()),
      weight: weight.value.trim().replace(",", "."),
      date: new Date().toISOString().slice(0, 10),
    });

  // expects says before anything is heard what the drawer holds of the craft, so that it can be put right.
  async function expects() {
    const of = craft();
    let answer;
    try {
      answer = await source.ask("listen", { pick: pickOf(of), rate_hz: usualRate, channels: 1 });
    } catch (fault) {
      return (
        fault.name !== "AbortError" && craft() === of && replace(known, el("p", { class: "danger" }, fault.message))
      );
    }
    if (craft() !== of) return;
    weight.placeholder = answer.weight_g === null ? "" : String(answer.weight_g);
    replace(
      known,
      el(
        "p",
        { class: "tools" },
        el("span", {}, "Prop ", el("strong", {}, of.parts.prop), ": ", el("strong", {}, `${answer.blades} blades`)),
        button(`Not ${answer.blades}? Put it right`, () => showsPart("prop", of.parts.prop)),
      ),
      el(
        "p",
        {},
        `Expected: about ${grouped(Math.round(answer.predicted_rpm / 100) * 100)} rpm` +
          (answer.weight_g === null
            ? ". Its weight is not in the log: weigh it ready to fly, or the sound tells little."
            : `. Weight from the log: ${answer.weight_g} g; enter another if it flies heavier or lighter now.`),
      ),
    );
  }

  async function hears(file, name, said, kept) {
    replace(heardBox, el("p", {}, `Decoding ${name} …`));
    let sound;
    try {
      sound = await soundOf(file);
    } catch (fault) {
      if (!(fault instanceof Unheard)) throw fault;
      return replace(heardBox, el("h3", {}, name), el("p", { class: "danger" }, fault.message));
    }
    replace(heardBox, el("p", {}, `Listening to ${name} …`));
    const of = craft(),
      answer = await work(
        "listen",
        { ...options(), rate_hz: sound.rate, channels: sound.channels, cut_to_s: sound.cut ? sound.seconds : 0 },
        "Listening",
        sound.samples.buffer,
      );
    if (!answer) return replace(heardBox, el("p", {}, "Nothing was kept."));
    heardTold(answer, of, name, said, kept);
  }

  const file = el("input", {
    type: "file",
    id: "listen-file",
    accept: "audio/*,video/*",
    onchange: () => file.files.length && hears(file.files[0], file.files[0].name, []).catch(complain),
  });
  replace(
    target,
    el("p", { class: "tools" }, button("Back", back)),
    el("h2", { tabindex: "-1" }, "Listen to a hover"),
    el(
      "p",
      {},
      "Ten seconds of hover tell how fast the rotors turn. With the weight, that says how much the prop lifts, for " +
        "every build that uses it. The sound stays on this device.",
    ),
    el("div", { class: "caution" }, el("h3", {}, "Before you take off"), bullets(beforeListening)),
    el("p", { class: "tools" }, el("label", { for: "listen-of" }, "Craft"), choice),
    known,
    el(
      "p",
      { class: "tools" },
      el("label", { for: "listen-weight" }, "Weight ready to fly, pack on board"),
      weight,
      "g",
    ),
    el("h3", {}, "A recording or a video"),
    el("p", { class: "tools" }, el("label", { for: "listen-file" }, "Open a file of the hover"), file),
    el("h3", {}, "Or record here"),
    microphone(level, hears),
    level,
    heardBox,
  );
  expects();
}

// microphone are the controls that record here, or why there are none.
function microphone(box, hears) {
  const why = unrecordable();
  if (why) return el("p", {}, why);
  const wait = el(
    "select",
    { id: "listen-wait" },
    walkBack.map((seconds) => el("option", { value: String(seconds), selected: seconds === 20 }, `${seconds} s`)),
  );
  const text = el("strong", { role: "status" }),
    number = el("span", {}),
    bar = el("meter", { min: -70, max: 0, low: quietDB, high: loudDB - 3, "aria-label": "Sound level" });
  let said = "";
  const shown = (now, level) => {
    if (state.view !== "listen") return recording.stop();
    if (now !== said) text.textContent = said = now;
    bar.hidden = number.hidden = level === null;
    if (level === null) return;
    bar.value = Math.max(level, -70);
    number.textContent = level > -70 ? `${fixed(level, 0)} dB` : "no sound";
  };
  async function starts() {
    if (recording) return;
    replace(
      box,
      text,
      el(
        "p",
        { class: "tools" },
        bar,
        number,
        button("Stop", () => recording && recording.stop()),
      ),
    );
    bar.hidden = number.hidden = true;
    box.scrollIntoView({ behavior: "instant", block: "center" });
    try {
      const taken = await takes(Number(wait.value), shown);
      replace(box);
      if (taken) await hears(taken.file, "Your recording", taken.said, taken.file);
    } catch (fault) {
      if (!(fault instanceof Unheard)) throw fault;
      replace(box, el("p", { class: "danger" }, fault.message));
    }
  }
  return el(
    "p",
    { class: "tools" },
    el("label", { for: "listen-wait" }, "Time to walk back and take off"),
    wait,
    button(`Record ${recordSeconds} s`, () => starts().catch(complain), { id: "listen-start" }),
    el("span", {}, "A beep starts it, a lower one ends it."),
  );
}

// heardTold tells what was heard: the speed, how it was found, the tones in the spectrum, and what it changes.
function heardTold(answer, craft, name, said, kept) {
  const words = answer.words,
    change = answer.changes[0],
    others = answer.changes.slice(1);
  replace(
    heardBox,
    el("h3", { tabindex: "-1" }, answer.heard ? words.heard : name),
    !answer.heard && el("p", {}, el("strong", {}, words.heard)),
    lines(said, { class: "danger" }),
    answer.spectrum && spectrumPlot(answer),
    bullets(words.how || []),
    answer.heard && [
      el("h3", {}, "What it brings"),
      words.brings && el("p", {}, words.brings),
      change && changeTable(craft.name, change),
      others.length > 0 &&
        el(
          "details",
          {},
          el("summary", {}, "Other builds with this prop"),
          others.map((one) => changeTable(one.text, one)),
        ),
      el("p", {}, words.cannot),
    ],
    el(
      "p",
      { class: "tools" },
      answer.heard &&
        button("Keep and learn", () => keepsAndLearns(`heard ${craft.name}`, answer.file, craft, heardBox), {
          id: "heard-keep",
        }),
      kept &&
        button("Save the recording", () => drawer.saveFile(`hover.${/mp4/.test(kept.type) ? "m4a" : "webm"}`, kept)),
    ),
  );
  const top = heardBox.querySelector("h3");
  top.focus({ preventScroll: true });
  top.scrollIntoView({ behavior: "instant", block: "start" });
}

// changeTable are a build's figures before the reading and after it.
function changeTable(name, change) {
  const shown = (of) => (of.value === null ? of.reason || "–" : ranged(of));
  return el(
    "table",
    { class: "change" },
    el("caption", { class: "left" }, name),
    el(
      "thead",
      {},
      el(
        "tr",
        {},
        ["", "before", "after"].map((word) => el("th", { scope: "col", class: word || "left" }, word)),
      ),
    ),
    el(
      "tbody",
      {},
      change.figures.map((one) =>
        el(
          "tr",
          {},
          el("th", { scope: "row", class: "left" }, withUnit(one.name, unitOf(one.key) && `(${unitOf(one.key)})`)),
          el("td", {}, shown(one.before)),
          el("td", {}, shown(one.after)),
        ),
      ),
    ),
  );
}

const unitOf = (key) => (page.figures.find((figure) => figure.key === key) || { unit: "" }).unit;

// spectrumPlot draws the spectrum with the tones of the rotors: drawn through where they stand out, broken where they
// were only looked for; each group with its letter.
function spectrumPlot(answer) {
  const { step_hz: step, level_db: levels, tones } = answer.spectrum,
    target = svg("svg", { "aria-hidden": "true" });
  const width = Math.max(Math.min(byId("listen").clientWidth - 2, 900), 260),
    end = step * levels.length,
    kilo = end >= 3000,
    top = Math.max(...levels, 6),
    groups = new Set(tones.map((tone) => tone.group)).size;
  const f = frame(
    target,
    width,
    260,
    { low: 0, high: kilo ? end / 1000 : end, label: kilo ? "frequency, kHz" : "frequency, Hz" },
    { low: 0, high: (1.13 + 0.12 * groups) * top, label: "level over the noise, dB" },
  );
  const px = (hz) => f.px(kilo ? hz / 1000 : hz),
    levelAt = (hz) =>
      Math.max(...levels.slice(Math.max(Math.floor((0.99 * hz) / step), 0), Math.ceil((1.01 * hz) / step) + 1), 0);
  const last = [];
  for (const tone of tones.filter((one) => one.hz < end)) {
    const x = px(tone.hz),
      name = `${groups > 1 ? letters[tone.group - 1] : ""}${tone.times}×`;
    const row = groups > 1 ? groups - tone.group : 0;
    target.append(
      svg("path", {
        class: `tone g${tone.group}${tone.strong ? " strong" : ""}`,
        d: `M${x} ${f.py(0)}V${f.py((1.1 + 0.12 * row) * top)}`,
      }),
    );
    // A name is left out where it would stand on the one before.
    if (x - (last[row] ?? -Infinity) > 30 + 8 * groups) {
      target.append(
        svg("text", { class: "tag", x, y: f.py((1.12 + 0.12 * row) * top), "text-anchor": "middle" }, name),
      );
      last[row] = x;
    }
  }
  target.append(
    svg("path", {
      class: "spectrum",
      d: levels.map((level, i) => `${i ? "L" : "M"}${px(i * step).toFixed(1)} ${f.py(level).toFixed(1)}`).join(""),
    }),
  );
  const said = tones
    .filter((one) => one.hz < end)
    .map(
      (tone) =>
        `${groups > 1 ? `group ${letters[tone.group - 1]}, ` : ""}${tone.times} times the blade-passing frequency, ` +
        `${fixed(tone.hz, 0)} Hz: ${fixed(levelAt(tone.hz), 0)} dB over the noise` +
        (answer.heard && !tone.strong ? ", does not stand out" : ""),
    );
  const caption = answer.heard
    ? "Spectrum, with the tones of the blades: drawn through where they stand out"
    : "Spectrum, and where the tones of the blades were looked for";
  return el(
    "figure",
    { role: "img", "aria-label": `${caption}. ${said.join("; ")}.` },
    el("figcaption", {}, caption),
    el("div", { class: "plot" }, target),
  );
}

// pickOf names a craft by its parts.
const pickOf = ({ parts }) =>
  kinds.map((kind) => `${kind}=${parts[kind]}`).join(",") + `,extras=${parts.extras.join("+")}`;

// showsPart opens a part's fields in the place of parts.
async function showsPart(kind, id) {
  go("parts");
  await parts();
  const fold = document.querySelector(`#parts-list [data-of="${kind}"]`);
  if (!fold) return;
  // The parts of a kind are drawn as its fold opens.
  if (!fold.open) {
    const drawn = new Promise((done) => fold.addEventListener("toggle", done, { once: true }));
    fold.open = true;
    await drawn;
  }
  const part = fold.querySelector(`[data-of="${CSS.escape(`${kind} ${id}`)}"]`);
  if (!part) return;
  part.open = true;
  part.querySelector("summary").focus({ preventScroll: true });
  part.scrollIntoView({ behavior: "instant", block: "start" });
}
