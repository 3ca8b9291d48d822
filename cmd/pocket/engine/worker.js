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

// undense reads bytes from text: 13 bits in two of 125 letters, or 14 where the lower 13 leave room for one more, the
// lowest bits first.
function undense(text) {
	const values = new Uint8Array(128), room = 125 * 125 - 8192;
	let letter = 0;
	for (let code = 1; code < 128; code++) {
		if (code !== 13 && code !== 60) values[code] = letter++;
	}
	const bytes = new Uint8Array(text.length);
	let bits = 0, held = 0, at = 0;
	for (let i = 0; i < text.length; i += 2) {
		const pair = i + 1 < text.length;
		const value = values[text.charCodeAt(i)] + (pair ? 125 * values[text.charCodeAt(i + 1)] : 0);
		bits |= value << held;
		for (held += !pair ? 7 : (value & 8191) < room ? 14 : 13; held >= 8; held -= 8) {
			bytes[at++] = bits;
			bits >>>= 8;
		}
	}
	return bytes.subarray(0, at);
}

// compiled is the engine from its text, or as it was compiled before.
async function compiled(engine) {
	if (engine instanceof WebAssembly.Module) return engine;
	const program = new Blob([undense(engine)]).stream().pipeThrough(new DecompressionStream("gzip"));
	return WebAssembly.compileStreaming(new Response(program, { headers: { "Content-Type": "application/wasm" } }));
}

// pieces reads a file piece by piece; null where it cannot be read.
function pieces(file) {
	const reader = new FileReaderSync();
	return {
		size: file.size,
		read(from, to) {
			try {
				return new Uint8Array(reader.readAsArrayBuffer(file.slice(from, to)));
			} catch {
				return null;
			}
		},
	};
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
		const file = attached instanceof Blob;
		engineHost.ask(id, JSON.stringify(question), attached && !file ? new Uint8Array(attached) : null,
			file ? pieces(attached) : null);
	}
};
