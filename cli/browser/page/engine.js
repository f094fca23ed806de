// The command in a worker of its own. What it is asked is queued; a stop throws the worker away and starts another.

let compiled;

// The command as it lies in the page: compressed, in base64.
export function command() {
  compiled ??= (async () => {
    // It stands at the end of the page, so that the page is seen before it.
    while (document.readyState === 'loading') await new Promise((next) => document.addEventListener('DOMContentLoaded', next, { once: true }));
    const packed = Uint8Array.from(atob(document.getElementById('command').textContent.trim()), (c) => c.charCodeAt(0));
    const unpacked = new Blob([packed]).stream().pipeThrough(new DecompressionStream('gzip'));
    return WebAssembly.compile(await new Response(unpacked).arrayBuffer());
  })();
  return compiled;
}

export class Engine {
  constructor() {
    this.waiting = new Map();
    this.count = 0;
  }

  async start() {
    const module = await command();
    if (this.worker) return;
    const source = new Blob([document.getElementById('worker').textContent], { type: 'text/javascript' });
    this.worker = new Worker(URL.createObjectURL(source));
    this.worker.postMessage({ module });
    this.worker.onmessage = ({ data }) => {
      this.waiting.get(data.id)?.resolve(data);
      this.waiting.delete(data.id);
    };
  }

  // Runs `rangewright ARGS` on files given as texts by name; the answer has exit, out, err, and the files afterwards.
  async run(args, files, now = Date.now()) {
    await this.start();
    const id = (this.count += 1);
    const answer = new Promise((resolve, reject) => this.waiting.set(id, { resolve, reject }));
    this.worker.postMessage({ id, args, files, now });
    return answer;
  }

  // Ends whatever runs. What was asked and not answered is answered with "stopped".
  stop() {
    this.worker?.terminate();
    this.worker = undefined;
    for (const { reject } of this.waiting.values()) reject(new Stopped());
    this.waiting.clear();
  }
}

export class Stopped extends Error {}
