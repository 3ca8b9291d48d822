// starts runs the engine of the page in a worker. ask puts a question to it and gives its whole reply, {document, text}
// or {fault}; how holds {held, progress, signal, attached}, held in place of what the page begins with, attached an
// ArrayBuffer that the page then has no more, or a Blob.
function starts(held) {
  const policy = globalThis.trustedTypes
    ? trustedTypes.createPolicy("engine", { createScriptURL: (address) => address })
    : { createScriptURL: (address) => address };
  const address = URL.createObjectURL(new Blob([byId("worker").textContent], { type: "text/javascript" }));
  const waiting = new Map(),
    patience = 3000,
    mostKept = 128 << 20;
  let worker,
    ready,
    last = 0,
    program = byId("engine").textContent;
  const fault = (kind, text) => ({ fault: { kind, text, faults: [] } });

  // begin starts a worker, of the program as it was compiled if one ran before.
  function begin() {
    const mine = (worker = new Worker(policy.createScriptURL(address)));
    ready = new Promise((done, failed) => {
      mine.onmessage = ({ data }) => {
        if (mine !== worker) return;
        if (data.ready) {
          program = data.module || program;
          return done(data);
        }
        const asked = waiting.get(data.id);
        if (!asked) return;
        if (data.progress) return asked.progress(data.progress);
        waiting.delete(data.id);
        asked.done(data);
        // Memory never becomes less: what a large file took is given back by starting anew.
        if (asked.large && data.memory > mostKept && !waiting.size) ends();
      };
      mine.onerror = (event) => {
        event.preventDefault();
        if (mine !== worker) return;
        const said = fault(
          "other",
          `The engine stopped (${event.message || "this browser does not run it"}). ` +
            "Ask again, or open this file in another browser.",
        );
        failed(new Unanswered(said.fault.text));
        ends(said);
      };
    });
    ready.catch(() => {});
    worker.postMessage({ engine: program });
  }

  // ends tells all that wait that the worker is gone, and starts another where one has run before.
  function ends(said) {
    const asked = [...waiting.values()];
    waiting.clear();
    worker.terminate();
    if (program instanceof WebAssembly.Module) begin();
    for (const one of asked) one.done(said);
  }

  // stop ends a question; a worker that does not hear is replaced.
  function stop(id) {
    const asked = waiting.get(id),
      mine = worker;
    if (!asked) return;
    worker.postMessage({ stop: id });
    setTimeout(() => waiting.has(id) && mine === worker && ends(fault("stopped", "Stopped.")), patience);
  }

  begin();
  return {
    get ready() {
      return ready;
    },
    async ask(question, options, { held: other, progress = () => {}, signal, attached } = {}) {
      const id = ++last;
      await ready;
      if (signal && signal.aborted) return fault("stopped", "Stopped.");
      return new Promise((done) => {
        waiting.set(id, { progress, done, large: Boolean(attached) });
        if (signal) signal.addEventListener("abort", () => stop(id));
        worker.postMessage(
          { id, ask: question, ...held, ...other, options: options || {}, attached },
          attached instanceof ArrayBuffer ? [attached] : [],
        );
      });
    },
    restart() {
      ends(fault("stopped", "Stopped."));
      return ready;
    },
  };
}
