// The drawer that the engine answers about: its text is the truth. It is kept in the browser between visits where that
// allows it, and each change can be undone.
const drawer = { past: [], stale: false, kept: null, saved: true, key: "", made: null, written: null };
const mostPast = 50;

// begin takes up what was kept of this page's drawer at the last visit.
drawer.begin = () => {
  const { name, drawer: made, learned } = source.held;
  drawer.made = { name, drawer: made, learned };
  let hash = 0x811c9dc5;
  for (const byte of new TextEncoder().encode(name + "\n" + made))
    hash = Math.imul(hash ^ byte, 0x01000193) >>> 0;
  drawer.key = "partsaloft drawer " + hash.toString(36);
  drawer.take();
  typed.begin();
  addEventListener("storage", (event) => {
    if (event.key !== drawer.key || event.newValue === null || event.newValue === drawer.written) return;
    drawer.says("elsewhere-changed", "This drawer was changed in another window.", "Show that", async () => {
      drawer.take();
      await drawer.shown();
    });
  });
  addEventListener("beforeunload", (event) => !drawer.kept && !drawer.saved && event.preventDefault());
};

// says tells of the drawer above everything else, with what can be done about it.
drawer.says = (id, text, act, does) => {
  const box = byId(id);
  replace(
    box,
    el("span", {}, text),
    button(act, async () => {
      box.hidden = true;
      await does();
    }),
  );
  box.hidden = false;
};

// empty says whether a drawer's text holds no part at all.
drawer.empty = () => !source.held.drawer.split("\n").some((line) => /^\s*[^\s#]/.test(line));

// stored is what this browser keeps of the drawer, as text and read.
drawer.stored = () => {
  const text = localStorage.getItem(drawer.key);
  let held = null;
  try {
    held = JSON.parse(text || "null");
  } catch {
    /* it is none of ours */
  }
  return { text, held: held && typeof held.drawer === "string" ? held : null };
};

// take reads what is kept.
drawer.take = () => {
  try {
    const { text, held } = drawer.stored();
    drawer.kept = true;
    drawer.written = text;
    if (!held) return;
    Object.assign(source.held, { name: String(held.name), drawer: held.drawer, learned: held.learned || undefined });
    drawer.past = Array.isArray(held.past) ? held.past : [];
  } catch {
    drawer.kept = false;
  }
};

// keep keeps the drawer; where there is no room, without what could be undone.
drawer.keep = () => {
  const { name, drawer: text, learned } = source.held;
  drawer.saved = false;
  drawer.meets();
  for (const past of [drawer.past, drawer.past.slice(-1), []]) {
    try {
      const kept = JSON.stringify({ name, drawer: text, learned, past });
      localStorage.setItem(drawer.key, kept);
      drawer.written = kept;
      drawer.kept = true;
      byId("unkept").hidden = true;
      return;
    } catch {
      drawer.kept = false;
    }
  }
  const why = "This browser has no room left or keeps nothing: your changes stand in this page alone. ";
  drawer.says("unkept", why + "Save the file before you leave.", "Save the file", drawer.saveNow);
};

// meets puts what another window kept since into the past, so that this window's change loses none of it.
drawer.meets = () => {
  try {
    const { text, held } = drawer.stored();
    if (text === drawer.written || !held || held.drawer === source.held.drawer) return;
    const { name, drawer: other, learned } = held;
    drawer.past = [...drawer.past, { what: "replacing the other window's version", name, drawer: other, learned }];
  } catch {
    return;
  }
  drawer.says(
    "elsewhere-changed",
    "Another window had changed this drawer too. Your last change replaced its version; Undo brings it back.",
    "Take the other window's version",
    async () => {
      drawer.undo();
      await drawer.shown();
    },
  );
};

// changes takes another text of the drawer, and what was learned from it: null for nothing.
drawer.changes = (what, text, learned = source.held.learned, name = source.held.name) => {
  const { name: called, drawer: was, learned: knew } = source.held;
  drawer.past = [...drawer.past, { what: what.slice(0, 60), name: called, drawer: was, learned: knew }].slice(-mostPast);
  Object.assign(source.held, { name, drawer: text, learned: learned || undefined });
  drawer.stale = true;
  drawer.keep();
};

// undo takes the last change back.
drawer.undo = () => {
  const last = drawer.past.pop();
  if (!last) return;
  Object.assign(source.held, { name: last.name, drawer: last.drawer, learned: last.learned });
  drawer.stale = true;
  drawer.keep();
};

// shown draws anew what hangs on the drawer.
drawer.shown = async () => {
  drawer.stale = true;
  if (state && state.view !== "builds") return show();
  await opens();
};

// saveNow gives the drawer as it is now as a file.
drawer.saveNow = () => {
  drawer.save(source.name, source.held.drawer);
  drawer.saved = true;
};

// save gives a text as a file.
drawer.save = (name, text) => drawer.saveFile(name, new Blob([text], { type: "application/yaml" }));
drawer.saveFile = (name, content) => {
  const address = URL.createObjectURL(content);
  const link = el("a", { href: address, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 10000);
};

// blockOf says which lines of a text hold a part that begins at a line, {from, to, indent}; null where it is not
// written as lines of its own.
drawer.blockOf = (text, line) => {
  const all = text.split("\n"),
    from = line - 1,
    dash = all[from] === undefined ? -1 : all[from].search(/\S/);
  if (dash < 0 || all[from][dash] !== "-") return null;
  let to = from + 1,
    last = to;
  while (to < all.length) {
    const at = all[to].search(/\S/);
    if (at >= 0 && at <= dash) break;
    to++;
    if (at >= 0) last = to;
  }
  return { from, to: last, indent: dash };
};

// put replaces lines of a text.
drawer.put = (text, from, to, lines) => {
  const all = text.split("\n");
  all.splice(from, to - from, ...lines);
  return all.join("\n");
};
