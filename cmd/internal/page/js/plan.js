// plan asks for several crafts from one drawer.
let planned = null;
async function plan() {
  const target = byId("plan");
  if (target.dataset.made) return;
  target.dataset.made = "yes";
  const styles = await work("styles", { all: true }, "Reading the styles");
  const found = el("div", {});
  const counts = ((styles && styles.styles) || []).map((style) => ({
    style,
    input: el("input", {
      type: "number",
      id: `plan-${style.name}`,
      min: 0,
      max: 4,
      step: 1,
      value: 0,
      inputmode: "numeric",
    }),
  }));
  const shared = el("input", { type: "checkbox", id: "plan-share" });
  replace(
    target,
    el("p", { class: "tools" }, button("Back", back)),
    el("h2", { tabindex: "-1" }, "Several crafts from one drawer"),
    el("p", {}, "How many crafts of each kind? No two take the same piece."),
    el(
      "form",
      {
        onsubmit: async (event) => {
          event.preventDefault();
          const wishes = counts.flatMap(({ style, input }) =>
            Array(Math.min(Math.max(Math.round(Number(input.value) || 0), 0), 4)).fill({ name: style.name }),
          );
          if (!wishes.length) return replace(found, el("p", {}, "Set at least one number above 0."));
          const answer = await work("plan", { styles: wishes, share_packs: shared.checked }, "Choosing the crafts");
          if (answer) replace(found, planTold(answer));
        },
      },
      counts.map(({ style, input }) =>
        el(
          "div",
          { class: "wish" },
          el("label", { for: input.id }, style.name, el("small", {}, style.about || "")),
          input,
        ),
      ),
      el(
        "div",
        { class: "wish" },
        el("label", { for: "plan-share" }, "several crafts may fly the same pack in turn"),
        shared,
      ),
      el("p", { class: "tools" }, el("button", {}, "Work it out")),
    ),
    found,
  );
  target.querySelector("h2").focus({ preventScroll: true });
}

function planTold(answer) {
  const left = new Map();
  for (const one of answer.left_over)
    left.set(one.kind, [
      ...(left.get(one.kind) || []),
      one.retire
        ? `${one.id} (to retire)`
        : one.pieces === null || one.pieces === 1
          ? one.id
          : `${one.pieces} ${one.id}`,
    ]);
  return [
    lines(answer.advice || []),
    answer.crafts.map((craft) => [
      el("h3", {}, `${craft.wish}: score ${fixed(craft.score, 1)}`),
      (craft.dangers || []).map((text) =>
        el("p", { class: "danger" }, el("strong", {}, "Danger: "), capital(text) + "."),
      ),
      el(
        "p",
        {},
        kinds.map((kind) => `${kind} ${craft.parts[kind]}`).join(", "),
        craft.parts.extras.length > 0 && "; extras " + craft.parts.extras.join(", "),
      ),
      bullets(craft.notes),
    ]),
    answer.unmet.length > 0 && [
      el("h3", {}, "Short of"),
      bullets(answer.unmet.map((one) => `${one.wish}: ${one.runs_out.join("; ")}`)),
    ],
    left.size > 0 &&
      el(
        "details",
        {},
        el("summary", {}, "Parts left"),
        bullets([...left].map(([kind, list]) => `${kind}: ${list.join(", ")}`)),
      ),
  ];
}
