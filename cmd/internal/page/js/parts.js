// parts is the place of the drawer's parts: by kind, counts first; added by words, changed, duplicated, removed and
// undone.
const kindTitles = {
  motor: "Motors",
  prop: "Props",
  pack: "Packs",
  frame: "Frames",
  board: "Boards",
  extra: "Extras",
};
let partsAsked = 0;
async function parts() {
  const target = byId("parts"),
    list = el("div", { id: "parts-list" });
  if (!target.dataset.made) {
    target.dataset.made = "yes";
    replace(
      target,
      el("h2", { tabindex: "-1" }, "Parts"),
      adding(),
      el("div", { id: "parts-state" }),
      list,
      el("div", { id: "parts-text" }),
    );
  }
  drawerState();
  const mine = ++partsAsked,
    answer = await work("parts", {}, "Reading the drawer");
  if (!answer || mine !== partsAsked) return;
  const opened = new Set([...document.querySelectorAll("#parts-list details[open]")].map((one) => one.dataset.of));
  replace(
    byId("parts-list"),
    answer.faults.length > 0 &&
      !drawer.empty() && [
      el("h3", {}, "Errors to fix"),
      bullets(answer.faults.map((one) => (one.line > 0 ? `line ${one.line}: ${one.text}` : one.text))),
    ],
    Object.keys(kindTitles).map((kind) => kindOf(kind, answer, opened)),
  );
  asText();
}

// mostDrawerBytes is the largest file that is read as a drawer.
const mostDrawerBytes = 8 << 20;

// drawerState says which drawer it is, whether it is kept, and what can be done with the whole of it.
function drawerState() {
  const last = drawer.past[drawer.past.length - 1],
    held = byId("parts-state").contains(document.activeElement) && document.activeElement;
  const file = el("input", {
    type: "file",
    id: "parts-file",
    accept: ".yaml,.yml,text/yaml,text/plain",
    onchange: async () => {
      if (!file.files.length) return;
      const { name, size } = file.files[0];
      if (size > mostDrawerBytes)
        return complain(
          new Error(`${name} has ${grouped(Math.ceil(size / 1e6))} MB; a drawer has at most 8 MB. Open another file.`),
        );
      const text = await file.files[0].text();
      drawer.changes(`open ${name}`, text, null, name);
      parts();
    },
  });
  replace(
    byId("parts-state"),
    el(
      "p",
      {},
      `${source.name}. `,
      drawer.kept
        ? "Kept in this browser; the saved file is the safe copy."
        : "This browser keeps nothing between visits: save the file before you leave.",
    ),
    el(
      "p",
      { class: "tools" },
      last &&
        button(
          `Undo: ${last.what}`,
          () => {
            drawer.undo();
            parts();
          },
          { id: "parts-undo" },
        ),
      button("Save the file", drawer.saveNow),
    ),
    el(
      "details",
      {},
      el("summary", {}, "Another drawer"),
      el("p", { class: "tools" }, el("label", { for: "parts-file" }, "Open a file"), file),
      el(
        "p",
        { class: "tools" },
        !drawer.empty() && starting("Start empty", { name: source.name, drawer: "" }),
        source.held.drawer !== drawer.made.drawer && starting("As this file was made", drawer.made),
      ),
    ),
  );
  if (held && !held.isConnected) (byId("parts-undo") || byId("parts-words")).focus({ preventScroll: true });
}

// starting is a button that takes another drawer.
const starting = (says, { name, drawer: text, learned = null }) =>
  button(says, () => {
    drawer.changes(says.toLowerCase(), text, learned, name);
    parts();
  });

// adding is the field where parts are written in one's own words, a line each, with what is understood below it.
function adding() {
  const echo = el("div", { id: "parts-echo", "aria-live": "polite" });
  let waiting = 0,
    asked = 0;
  const field = el("textarea", {
    id: "parts-words",
    rows: drawer.empty() ? 6 : 2,
    spellcheck: "false",
    autocomplete: "off",
    autocapitalize: "off",
    placeholder: "motor 1404 3800kv x4 9.3g",
    oninput: () => {
      clearTimeout(waiting);
      waiting = setTimeout(read, 250);
    },
  });
  typed.into(field);
  async function read() {
    const mine = ++asked;
    if (!field.value.trim()) return replace(echo);
    let answer;
    try {
      answer = await source.ask("enter", { list: { name: "list", text: field.value } });
    } catch (fault) {
      return fault.name !== "AbortError" && mine === asked && replace(echo, el("p", {}, fault.message));
    }
    if (mine !== asked) return;
    const known = (part) =>
      part.understood
        .filter((said) => said.key !== "id")
        .map((said) => `${said.key} ${said.value}`)
        .join(", ");
    replace(
      echo,
      answer.parts.map((part) =>
        el(
          "p",
          {},
          el("strong", {}, `${part.kind} ${part.id}: `),
          known(part),
          (part.read_as || []).map((text) => `; ${text}`),
          part.not_understood.length > 0 && [
            "; not understood: ",
            part.not_understood.map((word) => [el("u", { class: "doubtful" }, word), " "]),
          ],
        ),
      ),
      answer.not_read.map((line) =>
        el("p", {}, el("u", { class: "doubtful" }, line.text), `: ${line.why.join("; ")}`),
      ),
      answer.parts.length > 0 &&
        button(`Add ${answer.parts.length === 1 ? answer.parts[0].kind : answer.parts.length + " parts"}`, () => {
          drawer.changes(`add ${answer.parts.map((part) => part.id).join(", ")}`, answer.file);
          field.value = answer.not_read.map((line) => line.text).join("\n");
          typed.put({ [field.id]: field.value || undefined });
          replace(echo, el("p", {}, "Added."));
          parts();
        }),
    );
  }
  if (field.value) setTimeout(read);
  return el("div", {}, el("label", { for: "parts-words" }, "Add parts in your own words, a line each"), field, echo);
}

// kindOf folds the parts of a kind under their count.
function kindOf(kind, answer, opened) {
  const list = answer.parts.filter((part) => part.kind === kind);
  const pieces = list.reduce((sum, part) => sum + (Number(part.keys.count) || 0), 0);
  const faulty = list.some((part) => faultsOf(part, answer).length > 0 || typed.has(fieldID(part)));
  const fold = el(
    "details",
    {
      "data-of": kind,
      open: opened.has(kind) || faulty,
      ontoggle: () => fold.open && fold.childElementCount === 1 && opens(),
    },
    el(
      "summary",
      {},
      el("strong", {}, kindTitles[kind]),
      `: ${list.length}` + (pieces > list.length ? `, ${pieces} pieces` : ""),
    ),
  );
  const opens = () => fold.append(...list.map((part) => onePart(part, faultsOf(part, answer), opened)));
  if (fold.open) opens();
  return fold;
}

// faultsOf are the faults of a part.
const faultsOf = (part, answer) =>
  answer.faults.filter((fault) => fault.path === part.path || fault.path.startsWith(part.path + "."));

// fieldID is the id of the field that holds a part's lines.
const fieldID = (part) => `fields ${part.kind} ${part.id}`.replace(/\s+/g, "-");

// onePart is a part that opens to its fields: as written, what is estimated, and what measuring it takes.
const efforts = ["a scale or its sheet", "a meter", "a hover", "a ruler", "a thrust stand"];
function onePart(part, faults, opened) {
  const said = Object.entries(part.keys).filter(([key]) => key !== "id" && key !== "count");
  const shown = (value) => (typeof value === "object" ? JSON.stringify(value) : String(value));
  const name = `${part.kind} ${part.id}`,
    box = el("div", {});
  const fold = el(
    "details",
    {
      "data-of": name,
      class: "part",
      open: opened.has(name) || faults.length > 0 || typed.has(fieldID(part)),
      ontoggle: () => fold.open && !box.childElementCount && fields(part, faults, box),
    },
    el(
      "summary",
      {},
      el("strong", {}, part.id),
      part.keys.count !== undefined && ` × ${part.keys.count}`,
      `: ${said
        .slice(0, 4)
        .map(([key, value]) => (key === "size" || key === "stator" ? shown(value) : `${key} ${shown(value)}`))
        .join(", ")}`,
      faults.length > 0 &&
        el("strong", { class: "danger" }, ` ${faults.length === 1 ? "1 error" : faults.length + " errors"}`),
    ),
    box,
  );
  if (fold.open) fields(part, faults, box);
  return fold;
}

function fields(part, faults, box) {
  const text = source.held.drawer,
    block = drawer.blockOf(text, part.line),
    id = fieldID(part);
  const estimated = part.estimates.map(
    (one) =>
      `${one.key}: ${one.value === null ? "not measured" : `estimated ${withUnit(ranged(one), one.unit)}`}` +
      `${one.at ? " at " + one.at : ""}; ${efforts[one.effort] || "a reading"} would tell`,
  );
  const written = block ? text.split("\n").slice(block.from, block.to) : [];
  const bare = written
    .map((one, i) => (i === 0 ? " ".repeat(block.indent + 2) + one.slice(block.indent + 2) : one))
    .map((one) => one.slice(Math.min(block.indent + 2, one.search(/\S|$/))));
  const field = el("textarea", {
    id,
    rows: Math.min(bare.length + 1, 20),
    spellcheck: "false",
    autocomplete: "off",
    autocapitalize: "off",
  });
  field.value = bare.join("\n");
  typed.into(field);
  const inked = (lines) =>
    lines.map((one, i) =>
      i === 0 ? " ".repeat(block.indent) + "- " + one : one.trim() ? " ".repeat(block.indent + 2) + one : one,
    );
  const change = (what, lines) => {
    typed.forget(id);
    drawer.changes(`${what} ${part.id}`, drawer.put(text, block.from, block.to, lines));
    parts();
  };
  replace(
    box,
    faults.map((fault) =>
      el("p", { class: "danger" }, [fault.path.slice(part.path.length + 1), fault.message].filter(Boolean).join(" ")),
    ),
    bullets(estimated),
    block
      ? [
          el("label", { for: id }, `Fields of ${part.id}, one a line`),
          field,
          el(
            "p",
            { class: "tools" },
            button("Keep", () => change("change", inked(field.value.split("\n")))),
            button("Duplicate", () =>
              change("duplicate", [
                ...written,
                ...inked(
                  bare.map((one) =>
                    one.startsWith("id:")
                      ? `id: ${freeID(part.id)}`
                      : one.replace(/^\{\s*id:\s*[^,}]+/, `{id: ${freeID(part.id)}`),
                  ),
                ),
              ]),
            ),
            button("Remove", () => change("remove", [])),
          ),
        ]
      : el("p", {}, "Change it in the text of the drawer below."),
  );
}

// freeID is an id beside another's that the text does not use.
function freeID(id) {
  let n = 2;
  while (source.held.drawer.includes(`${id}-${n}`)) n++;
  return `${id}-${n}`;
}

// asText is the whole drawer as text, folded.
function asText() {
  const field = el("textarea", {
    id: "parts-whole",
    rows: 16,
    spellcheck: "false",
    autocomplete: "off",
    autocapitalize: "off",
  });
  field.value = source.held.drawer;
  typed.into(field);
  const taken = typed.has(field.id);
  replace(
    byId("parts-text"),
    el(
      "details",
      { open: taken },
      el("summary", {}, "The drawer as text"),
      taken && el("p", {}, "You typed into this text and did not keep it yet."),
      el("label", { for: "parts-whole" }, "Every line of the file"),
      field,
      el(
        "p",
        { class: "tools" },
        button("Keep this text", () => {
          typed.forget(field.id);
          drawer.changes("change the text", field.value);
          parts();
        }),
        taken &&
          button("Drop what was typed", () => {
            typed.forget(field.id);
            asText();
          }),
      ),
    ),
  );
}
