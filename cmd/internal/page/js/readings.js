
// readings is the place of what was measured: which reading would help first.
function readings() {
  const target = byId("readings");
  replace(target, el("h2", { tabindex: "-1" }, "Readings"),
    lead && lead.settle.length > 0 && [el("p", {}, "These readings would help to choose between the first two builds, the cheapest first:"),
      bullets([...lead.settle].sort((a, b) => Number(b.cheapest) - Number(a.cheapest)).map((one) => one.measure))],
    lead && lead.settle.length === 0 && el("p", {}, "No reading is needed to choose between the first two builds."));
}
