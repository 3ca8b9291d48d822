"use strict";

const held = JSON.parse(document.getElementById("held").textContent);

// engine starts the engine in a worker; ask puts a question to it.
const engine = (() => {
	const address = URL.createObjectURL(new Blob([document.getElementById("worker").textContent], { type: "text/javascript" }));
	const policy = globalThis.trustedTypes?.createPolicy("engine", { createScriptURL: (text) => text });
	const waiting = new Map();
	let worker, last = 0, program = document.getElementById("engine").textContent;
	function start() {
		worker = new Worker(policy ? policy.createScriptURL(address) : address);
		const mine = worker;
		return new Promise((done, failed) => {
			worker.onmessage = ({ data }) => {
				if (mine !== worker) return;
				if (data.ready) {
					program = data.module;
					return done(data);
				}
				const asked = waiting.get(data.id);
				if (data.progress) return asked?.progress?.(data.progress);
				waiting.delete(data.id);
				asked?.done(data);
			};
			worker.onerror = (event) => failed(new Error(event.message));
			worker.postMessage({ engine: program });
		});
	}
	let ready = start();
	return {
		get ready() { return ready; },
		async ask(ask, options, how = {}) {
			await ready;
			const id = ++last;
			how.signal?.addEventListener("abort", () => worker.postMessage({ stop: id }));
			return new Promise((done) => {
				waiting.set(id, { done, progress: how.progress });
				worker.postMessage({ id, ask, ...held, ...how.held, options: options || {} });
			});
		},
		restart() {
			worker.terminate();
			waiting.clear();
			ready = start();
			return ready;
		},
	};
})();

engine.ask("rank").then((reply) => {
	document.getElementById("answer").textContent = reply.document ? (reply.document.advice || []).join(" ") : reply.fault.text;
});
