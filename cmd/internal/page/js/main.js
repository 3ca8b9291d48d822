// opens shows a drawer: what to build first, then the builds themselves. The answer before a change stands until then,
// and says so; a later change takes its place.
let outdated = false,
  openings = 0;
async function opens() {
  const mine = ++openings;
  drawer.stale = false;
  asking++;
  if (source.live && page && !drawer.empty()) isOutdated(true);
  else forgets();
  if (!source.live) {
    lead = await source.ask("lead").catch(() => null);
    sayLead();
    return begins(await source.ask("explore"));
  }
  if (drawer.empty()) return noParts();
  const found = await work("lead", {}, "Ranking the drawer");
  if (mine !== openings) return;
  if (found === undefined) drawer.stale = true;
  if (found === undefined) return;
  forgets();
  if (!found)
    return replace(
      byId("advice"),
      el("p", {}, "Nothing is ranked yet."),
      el(
        "p",
        { class: "tools" },
        button("Look at the parts", () => go("parts")),
        button("Rank the drawer", opens),
      ),
    );
  lead = found;
  sayLead();
  await looksAtAll();
}

// noParts says what to do first with an empty drawer.
function noParts() {
  replace(
    byId("advice"),
    el("p", {}, "No parts yet."),
    el("p", {}, "Write down what you have, one part a line. The best build then stands here."),
    el(
      "p",
      { class: "tools" },
      button("Add parts", () => go("parts")),
    ),
  );
}

// isOutdated marks what is shown as the answer to the drawer before its last change, or takes the mark away.
function isOutdated(is) {
  outdated = is;
  byId("again").hidden = !is;
  for (const id of ["first-tools", "sure", "wishes-fold", "rows", "scatter", "further", "more"]) byId(id).inert = is;
}

// looksAtAll asks for every build, with which sliders and limits rank at once; until then, and where that is stopped,
// the first rows stand.
const mostRows = 8000;
async function looksAtAll() {
  const of = source.held.drawer,
    document = await work("explore", { details: 12, rows: mostRows }, "Looking at every build");
  if (source.held.drawer !== of) return;
  if (document === undefined) {
    drawer.stale = true;
    return;
  }
  if (!document) {
    byId("status").replaceChildren(
      "These are the first builds; priorities, limits and sheets need a look at every build. ",
      button("Look at every build", looksAtAll),
    );
    return;
  }
  document.command = `partsaloft rank --drawer ${source.name} --style ${document.style}`;
  begins(document);
  styleChoice();
}

// styleChoice offers the ways of flying.
async function styleChoice() {
  const from = page,
    found = await source.ask("styles", { all: true }).catch(() => null);
  if (!found || page !== from) return;
  const choice = el(
    "select",
    {
      id: "style",
      onchange: async () => {
        source.held.style = { name: choice.value };
        await opens();
      },
    },
    found.styles.map((style) => el("option", { value: style.name, selected: style.name === page.style }, style.name)),
  );
  byId("style-choice").hidden = false;
  replace(byId("style-choice"), el("label", { for: "style" }, "Way of flying"), choice);
}

// forgets clears what the last drawer left.
function forgets() {
  lead = page = null;
  if (!source.live) return;
  isOutdated(false);
  byId("heading").textContent = `What ${source.name} can fly`;
  for (const id of ["advice", "dangers", "drawer-dangers", "sure", "rows", "first-tools"]) byId(id).replaceChildren();
  byId("advice").replaceChildren(el("p", {}, "Working out what to build …"));
  byId("status").textContent = "";
  delete byId("plan").dataset.made;
  for (const id of needBuilds) byId(id).hidden = true;
}

// needBuilds are the parts of the page that mean nothing before the builds are known.
const needBuilds = ["wishes-fold", "more", "ranking", "scatter", "further", "why-fold", "footer"];

// begins shows a document of builds.
function begins(document) {
  adopt(document);
  state = { ...opening(), view: state ? state.view : "builds" };
  leadFor = JSON.stringify([state.weights, state.limits]);
  byId("heading").textContent = `What ${page.drawer} can fly`;
  byId("about").textContent = page.held.join(" ");
  byId("care").textContent = page.care.slice(page.dangers).join(" ");
  if (!lead) {
    const dangers = page.care.slice(0, page.dangers);
    replace(
      byId("drawer-dangers"),
      dangers.map((text) => el("p", { class: "danger" }, text)),
    );
  }
  drawing.ground = null;
  for (const id of ["wishes-fold", "ranking", "scatter"]) byId(id).hidden = false;
  byId("further").hidden = !source.live;
  sayLead();
  priorities();
  read();
  redraw();
  show();
}

// listens wires what stands in the page whatever the drawer.
function listens() {
  byId("more").addEventListener("click", () => {
    const first = state.shown;
    state.shown += pageful;
    list(state, ranking, wire);
    byId("rows").children[first]?.querySelector("button").focus();
  });
  byId("wishes").addEventListener("submit", (event) => event.preventDefault());
  byId("wishes").addEventListener("reset", (event) => (event.preventDefault(), resetWishes()));
  watch(wire);
  byId("compare-back").addEventListener("click", back);
  for (const link of document.querySelectorAll("#places a")) {
    link.addEventListener("click", (event) => {
      event.preventDefault();
      if (!state || state.view !== link.dataset.place) go(link.dataset.place);
    });
  }
  addEventListener("popstate", () => {
    if (!page || !state) return;
    const before = state.view;
    scrolled.set(before, scrollY);
    read();
    redraw();
    arrive();
  });
  let width = innerWidth;
  addEventListener("resize", () => {
    if (innerWidth === width || !page) return;
    width = innerWidth;
    refresh();
  });
}

async function main() {
  history.scrollRestoration = "manual";
  const held = await opened("data");
  source = byId("engine") ? live(held) : inside(held.explore);
  document.documentElement.classList.toggle("live", source.live);
  byId("places").hidden = !source.live;
  byId("elsewhere").hidden = source.live;
  if (source.live) {
    drawer.begin();
    replace(
      byId("further"),
      button("Several crafts from this drawer", () => go("plan")),
      button("What to get", () => go("buy")),
    );
  }
  listens();
  await opens();
}

main().catch(complain);
