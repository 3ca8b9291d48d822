"use strict";

// The worker's side of the messages; doc.go says which there are. The loader of the Go toolchain stands before it.
globalThis.engineHost = {
	module: null,
	memory: null,
	ready(version, questions) {
		postMessage({ ready: true, version, questions, module: this.module });
	},
	progress(id, share) {
		postMessage({ id, progress: { share } });
	},
	reply(id, text) {
		postMessage({ id, ...JSON.parse(text), memory: this.memory.buffer.byteLength });
	},
};

// undense reads bytes from text: 13 bits in two of 91 letters, the lowest bits first.
function undense(text) {
	const values = new Uint8Array(128);
	let letter = 0;
	for (let code = 33; code < 127; code++) {
		if (!'"&<'.includes(String.fromCharCode(code))) values[code] = letter++;
	}
	const bytes = new Uint8Array(Math.floor((text.length >> 1) * 13 / 8) + (text.length & 1));
	let bits = 0, held = 0, at = 0;
	for (let i = 0; i < text.length; i += 2) {
		bits |= (values[text.charCodeAt(i)] + (i + 1 < text.length ? 91 * values[text.charCodeAt(i + 1)] : 0)) << held;
		for (held += i + 1 < text.length ? 13 : 8; held >= 8; held -= 8) {
			if (at < bytes.length) bytes[at++] = bits;
			bits >>>= 8;
		}
	}
	return bytes.subarray(0, at);
}

// compiled is the engine from its text, or as it was compiled before.
async function compiled(engine) {
	if (engine instanceof WebAssembly.Module) return engine;
	const program = new Blob([undense(engine.trim())]).stream().pipeThrough(new DecompressionStream("gzip"));
	return WebAssembly.compileStreaming(new Response(program, { headers: { "Content-Type": "application/wasm" } }));
}

async function start(engine) {
	const go = new Go();
	engineHost.module = await compiled(engine);
	const instance = await WebAssembly.instantiate(engineHost.module, go.importObject);
	engineHost.memory = instance.exports.mem;
	await go.run(instance);
	throw new Error("the engine has ended");
}

onmessage = ({ data }) => {
	if ("engine" in data) {
		// Outside of the promise it reaches the page as an error of the worker.
		start(data.engine).catch((error) => setTimeout(() => { throw error; }));
	} else if ("stop" in data) {
		engineHost.stop(data.stop);
	} else {
		const { id, attached, ...question } = data;
		engineHost.ask(id, JSON.stringify(question), attached ? new Uint8Array(attached) : null);
	}
};
