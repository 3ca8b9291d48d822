// live is the source of a page with the engine inside. held is what the page begins with: {name, drawer, style, styles,
// learned}.
function live(held) {
  const engine = (globalThis.engine = starts(held));
  return {
    live: true,
    held,
    can: () => true,
    get name() {
      return held.name;
    },
    async ask(question, options, { progress, signal, drawer: other, attached } = {}) {
      const reply = await engine.ask(question, options, {
        held: { style: styleAsked(), ...(other === undefined ? {} : { drawer: other }) },
        progress,
        signal,
        attached,
      });
      if (reply.document) return { ...reply.document, file: reply.text };
      if (reply.fault.kind === "stopped") throw new DOMException("stopped", "AbortError");
      throw Object.assign(new Unanswered(capital(reply.fault.text)), { faults: reply.fault.faults || [] });
    },
  };
}

// styleAsked is the style that questions are asked in: the page's, with the weights and limits that were moved, but for
// builds that are asked for anew.
function styleAsked() {
  const style = { ...source.held.style };
  if (!page || !state || outdated || !changed()) return style;
  style.weights = Object.fromEntries(page.axes.map((axis, a) => [axis.key, round(state.weights[a], 4)]));
  style.limits = Object.fromEntries(
    page.bounds.flatMap((bound, b) => {
      if (state.limits[b] === bound.open) return [];
      const value = state.limits[b] === null ? null : state.limits[b] / bound.perUnit;
      return [[bound.key, value === null ? ".." : bound.atMost ? `..${value}` : `${value}..`]];
    }),
  );
  return style;
}
