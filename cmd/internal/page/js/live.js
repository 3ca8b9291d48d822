
// live is the source of a page with the engine inside: it runs in a worker, and answers in messages.
async function live(held) {
  const decoded = (text) => Uint8Array.from(atob(text.trim()), (letter) => letter.charCodeAt(0)).buffer;
  const policy = globalThis.trustedTypes ? trustedTypes.createPolicy("engine", { createScriptURL: (address) => address }) : { createScriptURL: (address) => address };
  const address = URL.createObjectURL(new Blob([byId("worker").textContent], { type: "text/javascript" }));
  const waiting = new Map();
  let worker, ready, last = 0;

  function begin() {
    worker = new Worker(policy.createScriptURL(address));
    ready = new Promise((done, failed) => {
      worker.onmessage = ({ data }) => {
        if (data.ready) return done(data.version);
        const asked = waiting.get(data.id);
        if (!asked) return;
        if (data.progress) return asked.progress(data.progress);
        waiting.delete(data.id);
        if (data.document) asked.done(data.document);
        else asked.failed(Object.assign(new Unanswered(data.fault.text), { faults: data.fault.faults || [] }));
      };
      worker.onerror = (event) => {
        event.preventDefault();
        const stopped = new Unanswered("The engine stopped: " + (event.message || "this browser does not run it."));
        failed(stopped);
        for (const asked of waiting.values()) asked.failed(stopped);
        waiting.clear();
      };
    });
    ready.catch(() => {});
    const engine = decoded(byId("engine").textContent);
    worker.postMessage({ engine }, [engine]);
  }
  begin();

  return {
    live: true,
    drawer: held.drawer || "", name: held.name || "drawer.yaml", style: held.style || null, log: held.log || "",
    can: () => true,
    async ask(question, options, how) {
      const { progress = () => {}, signal } = how || {}, id = ++last;
      await ready;
      if (signal && signal.aborted) throw new DOMException("stopped", "AbortError");
      return new Promise((done, failed) => {
        waiting.set(id, { progress, done, failed });
        if (signal) signal.addEventListener("abort", () => {
          if (!waiting.delete(id)) return;
          worker.postMessage({ stop: id });
          failed(new DOMException("stopped", "AbortError"));
        });
        worker.postMessage({ id, ask: question, drawer: this.drawer, name: this.name, log: this.log, style: styleAsked(), options: options || {} });
      });
    },
  };
}

// styleAsked is the style that questions are asked in: its name, and what of it was changed.
function styleAsked() {
  const style = { name: source.style || (page ? page.style : "freestyle") };
  if (!page || !changed()) return style;
  style.weights = Object.fromEntries(page.axes.map((axis, a) => [axis.key, round(state.weights[a], 4)]));
  style.limits = Object.fromEntries(page.bounds.flatMap((bound, b) => {
    if (state.limits[b] === bound.open) return [];
    const value = state.limits[b] === null ? null : state.limits[b] / bound.perUnit;
    return [[bound.key, value === null ? ".." : bound.atMost ? `..${value}` : `${value}..`]];
  }));
  return style;
}
