// buy asks what one part more would bring.
async function buy() {
  const target = byId("buy");
  const found = el("div", {});
  replace(
    target,
    el("p", { class: "tools" }, button("Back", back)),
    el("h2", { tabindex: "-1" }, "What to get"),
    found,
  );
  const answer = await work("buy", {}, "Trying parts that you do not have");
  if (!answer) return;
  const price = (one) => (one.price === null ? "" : `, ${one.price} ${one.currency || ""}`);
  replace(
    found,
    lines(answer.advice || []),
    el(
      "ol",
      { class: "results" },
      answer.purchases.map((one) =>
        el(
          "li",
          {},
          el("strong", {}, words(one.parts.map((part) => part.like || `${part.kind} ${part.id}`))),
          `: score ${fixed(one.before, 1)} → ${fixed(one.after, 1)}${price(one)}`,
          one.unblocks.length > 0 && `; puts ${words(one.unblocks)} to use`,
        ),
      ),
    ),
  );
}
