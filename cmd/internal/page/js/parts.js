
// parts is the place of the drawer's parts: by kind, counts first.
async function parts() {
  const target = byId("parts"), found = el("div", {});
  const file = el("input", {
    type: "file", id: "parts-file", accept: ".yaml,.yml,text/yaml,text/plain",
    onchange: async () => {
      if (!file.files.length) return;
      source.open(file.files[0].name, await file.files[0].text());
      await opens();
      if (state) go("builds");
    },
  });
  replace(target, el("h2", { tabindex: "-1" }, "Parts"),
    el("p", {}, `The drawer is ${source.name}. Nothing leaves this file: a drawer that you open stays on this device.`),
    el("p", { class: "tools" }, el("label", { for: "parts-file" }, "Open another drawer"), file), found);
  const answer = await work("check", {}, "Checking the drawer");
  if (!answer) return;
  const faults = (answer.faults || []).map((one) => `${one.file}:${one.line}:${one.column}: ${one.message}`);
  replace(found, faults.length > 0 && [el("h3", {}, "Errors"), bullets(faults)],
    page && Object.entries({ motors: "Motors", props: "Props", packs: "Packs", frames: "Frames", boards: "Boards", extras: "Extras" }).map(([key, title]) =>
      [el("h3", {}, `${title} that some build uses: ${(page.parts[key] || []).length}`), el("ul", {}, (page.parts[key] || []).map((part) => el("li", {}, el("strong", {}, part.id), ` ${part.text}`)))]),
    answer.notes.length > 0 && [el("h3", {}, "Check these"), bullets(answer.notes)],
    answer.gaps && answer.gaps.measure.length > 0 && [el("h3", {}, "Readings that would help most"), bullets(answer.gaps.measure.map((one) => `${one.part} ${one.id}: ${one.how}`))]);
}
