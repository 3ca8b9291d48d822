// The drawer that the engine answers about: its text is the truth. It is kept in the browser between visits where that
// allows it, and each change can be undone.
const drawer = { past: [], stale: false, kept: null, key: "", made: "" };
const mostPast = 50;

// begin takes up what was kept of this page's drawer at the last visit.
drawer.begin = () => {
  drawer.made = source.held.drawer;
  let hash = 0x811c9dc5;
  for (const byte of new TextEncoder().encode(source.held.name + "\n" + drawer.made))
    hash = Math.imul(hash ^ byte, 0x01000193) >>> 0;
  drawer.key = "partsaloft drawer " + hash.toString(36);
  drawer.take();
  addEventListener("storage", (event) => {
    if (event.key !== drawer.key || event.newValue === null) return;
    replace(
      byId("elsewhere-changed"),
      el("span", {}, "This drawer was changed in another window."),
      button("Show that", async () => {
        byId("elsewhere-changed").hidden = true;
        drawer.take();
        await drawer.shown();
      }),
    );
    byId("elsewhere-changed").hidden = false;
  });
};

// take reads what is kept.
drawer.take = () => {
  try {
    const held = JSON.parse(localStorage.getItem(drawer.key) || "null");
    drawer.kept = true;
    if (!held || typeof held.drawer !== "string") return;
    Object.assign(source.held, { name: String(held.name), drawer: held.drawer, learned: held.learned || undefined });
    drawer.past = Array.isArray(held.past) ? held.past : [];
  } catch {
    drawer.kept = false;
  }
};

// keep keeps the drawer; where there is no room, without what could be undone.
drawer.keep = () => {
  const { name, drawer: text, learned } = source.held;
  for (const past of [drawer.past, drawer.past.slice(-1), []]) {
    try {
      localStorage.setItem(drawer.key, JSON.stringify({ name, drawer: text, learned, past }));
      drawer.kept = true;
      return;
    } catch {
      drawer.kept = false;
    }
  }
};

// changes takes another text of the drawer, and what was learned from it.
drawer.changes = (what, text, learned = source.held.learned) => {
  const { name, drawer: was, learned: knew } = source.held;
  drawer.past = [...drawer.past, { what, name, drawer: was, learned: knew }].slice(-mostPast);
  Object.assign(source.held, { drawer: text, learned });
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

// save gives the drawer as a file.
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
