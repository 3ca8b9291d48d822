
// live is the source of a page with the engine inside: it runs in a worker, and answers in messages. held is what the
// page begins with: {name, drawer, style, styles, learned}.
async function live(held) {
  const policy = globalThis.trustedTypes ? trustedTypes.createPolicy("engine", { createScriptURL: (address) => address }) : { createScriptURL: (address) => address };
  const address = URL.createObjectURL(new Blob([byId("worker").textContent], { type: "text/javascript" }));
  const waiting = new Map(), patience = 3000;
  let worker, ready, last = 0, engine = byId("engine").textContent;

  // begin starts a worker; questions that wait are put to it.
  function begin() {
    const mine = (worker = new Worker(policy.createScriptURL(address)));
    ready = new Promise((done, failed) => {
      mine.onmessage = ({ data }) => {
        if (mine !== worker) return;
        if (data.ready) {
          engine = data.module || engine;
          return done(data);
        }
        const asked = waiting.get(data.id);
        if (!asked) return;
        if (data.progress) return asked.progress(data.progress);
        waiting.delete(data.id);
        if (data.document) asked.done(data.text === undefined ? data.document : { ...data.document, file: data.text });
        else asked.failed(data.fault.kind === "stopped" ? stopped() : Object.assign(new Unanswered(data.fault.text), { faults: data.fault.faults || [] }));
      };
      mine.onerror = (event) => {
        event.preventDefault();
        if (mine === worker) ends(new Unanswered(`The engine stopped (${event.message || "this browser does not run it"}). Ask again, or open this file in another browser.`), failed);
      };
    });
    ready.catch(() => {});
    worker.postMessage({ engine });
  }

  // ends tells all that wait that the worker is gone, and starts another where one has run before.
  function ends(fault, failed) {
    failed(fault);
    for (const asked of waiting.values()) asked.failed(fault);
    waiting.clear();
    worker.terminate();
    if (engine instanceof WebAssembly.Module) begin();
  }

  const stopped = () => new DOMException("stopped", "AbortError");

  // stop ends a question; a worker that does not hear is replaced.
  function stop(id) {
    const asked = waiting.get(id), mine = worker;
    if (!asked) return;
    asked.failed(stopped());
    worker.postMessage({ stop: id });
    setTimeout(() => {
      if (!waiting.has(id) || mine !== worker) return;
      waiting.delete(id);
      ends(stopped(), () => {});
    }, patience);
  }

  begin();
  return {
    live: true, held,
    can: () => true,
    get name() { return held.name; },
    // open takes another drawer.
    open(name, drawer) { Object.assign(held, { name, drawer, learned: undefined }); },
    async ask(question, options, { progress = () => {}, signal } = {}) {
      const id = ++last;
      await ready;
      if (signal && signal.aborted) throw stopped();
      return new Promise((done, failed) => {
        waiting.set(id, { progress, done, failed });
        if (signal) signal.addEventListener("abort", () => stop(id));
        const { name, drawer, styles, learned } = held;
        worker.postMessage({ id, ask: question, name, drawer, styles, learned, style: styleAsked(), options: options || {} });
      });
    },
  };
}

// styleAsked is the style that questions are asked in: the page's, with the weights and limits that were moved.
function styleAsked() {
  const style = { ...source.held.style };
  if (!page || !changed()) return style;
  style.weights = Object.fromEntries(page.axes.map((axis, a) => [axis.key, round(state.weights[a], 4)]));
  style.limits = Object.fromEntries(page.bounds.flatMap((bound, b) => {
    if (state.limits[b] === bound.open) return [];
    const value = state.limits[b] === null ? null : state.limits[b] / bound.perUnit;
    return [[bound.key, value === null ? ".." : bound.atMost ? `..${value}` : `${value}..`]];
  }));
  return style;
}
