// A small WASI (preview 1) host: arguments, a folder that lives in memory, a clock, two texts out. The command inside it is
// the very one of the terminal. What is not here is not needed by it and answers "not supported".
// https://github.com/WebAssembly/WASI/blob/main/legacy/preview1/docs.md names the calls and the layout of what they fill in.

const OK = 0, BADF = 8, EXIST = 20, INVAL = 28, ISDIR = 31, NOENT = 44, NOSYS = 52, NOTDIR = 54, NOTEMPTY = 55;
const DEVICE = 2, FOLDER = 3, FILE = 4;
const [CREATE, MUST_BE_FOLDER, EXCLUSIVE, TRUNCATE] = [1, 2, 4, 8];
const APPEND = 1;
const ROOT = 3;

class Exit extends Error {
  constructor(code) {
    super(`exit ${code}`);
    this.code = code;
  }
}

// Bytes that grow.
class Bytes {
  constructor(data = new Uint8Array()) {
    this.data = data;
    this.length = data.length;
  }
  put(bytes, at) {
    const end = at + bytes.length;
    if (end > this.data.length) {
      const grown = new Uint8Array(Math.max(end, 2 * this.data.length));
      grown.set(this.all());
      this.data = grown;
    }
    this.data.set(bytes, at);
    this.length = Math.max(this.length, end);
  }
  all() {
    return this.data.subarray(0, this.length);
  }
}

// Runs a compiled command once. `files` are texts by path; `now` is the time as milliseconds since 1970.
export async function runCommand(module, args, files, now) {
  const [encoder, decoder] = [new TextEncoder(), new TextDecoder()];
  const disk = new Map();
  const folders = new Set(['']);
  for (const [path, text] of Object.entries(files)) disk.set(path, new Bytes(encoder.encode(text)));
  const out = { 1: new Bytes(), 2: new Bytes() };
  const open = new Map([[ROOT, { path: '', folder: true }]]);
  let memory;
  const began = performance.now();
  const view = () => new DataView(memory.buffer);
  const slice = (at, length) => new Uint8Array(memory.buffer, at, length);
  const plain = (path) => path.split('/').filter((part) => part && part !== '.').join('/');
  const named = (fd, at, length) => {
    const path = decoder.decode(slice(at, length));
    return plain(`${open.get(fd)?.path ?? ''}/${path}`);
  };
  const parent = (path) => path.split('/').slice(0, -1).join('/');
  const set32 = (at, value) => view().setUint32(at, value, true);
  const set64 = (at, value) => view().setBigUint64(at, BigInt(value), true);
  const parts = (at, count) => Array.from({ length: count }, (_, index) => {
    const where = at + 8 * index;
    return slice(view().getUint32(where, true), view().getUint32(where + 4, true));
  });
  const list = (texts) => ({
    sizes(count, size) {
      set32(count, texts.length);
      set32(size, texts.reduce((sum, text) => sum + encoder.encode(text).length + 1, 0));
      return OK;
    },
    get(pointers, buffer) {
      let at = buffer;
      texts.forEach((text, index) => {
        set32(pointers + 4 * index, at);
        const bytes = encoder.encode(`${text}\0`);
        slice(at, bytes.length).set(bytes);
        at += bytes.length;
      });
      return OK;
    },
  });
  const stat = (at, sort, size) => {
    slice(at, 64).fill(0);
    view().setUint8(at + 16, sort);
    set64(at + 24, 1);
    set64(at + 32, size);
    return OK;
  };
  const about = (path, at) => {
    if (disk.has(path)) return stat(at, FILE, disk.get(path).length);
    return folders.has(path) ? stat(at, FOLDER, 0) : NOENT;
  };
  const [commandLine, environment] = [list(args), list(['LANG=C.UTF-8'])];

  const calls = {
    args_sizes_get: commandLine.sizes,
    args_get: commandLine.get,
    environ_sizes_get: environment.sizes,
    environ_get: environment.get,
    clock_time_get(clock, _precision, at) {
      const gone = performance.now() - began;
      set64(at, Math.round((clock === 0 ? now + gone : gone) * 1e6));
      return OK;
    },
    random_get(at, length) {
      crypto.getRandomValues(slice(at, length));
      return OK;
    },
    proc_exit(code) {
      throw new Exit(code);
    },
    sched_yield: () => OK,

    fd_prestat_get(fd, at) {
      if (fd !== ROOT) return BADF;
      set32(at, 0);
      set32(at + 4, 1);
      return OK;
    },
    fd_prestat_dir_name(fd, at) {
      slice(at, 1).set(encoder.encode('/'));
      return OK;
    },
    fd_fdstat_get(fd, at) {
      if (fd > 2 && !open.has(fd)) return BADF;
      slice(at, 24).fill(0);
      view().setUint8(at, open.get(fd)?.folder ? FOLDER : FILE);
      set64(at + 8, 0xffffffffffffffffn);
      set64(at + 16, 0xffffffffffffffffn);
      return OK;
    },
    fd_fdstat_set_flags: () => OK,
    fd_filestat_get(fd, at) {
      const file = open.get(fd);
      if (fd <= 2) return stat(at, DEVICE, 0);
      return file ? stat(at, file.folder ? FOLDER : FILE, file.bytes?.length ?? 0) : BADF;
    },
    fd_write(fd, at, count, written) {
      const file = open.get(fd);
      const bytes = out[fd] ?? file?.bytes;
      if (!bytes) return BADF;
      let sum = 0;
      for (const part of parts(at, count)) {
        const end = out[fd] || file.append ? bytes.length : file.at;
        bytes.put(part, end);
        if (file) file.at = end + part.length;
        sum += part.length;
      }
      set32(written, sum);
      return OK;
    },
    fd_read(fd, at, count, read) {
      const file = open.get(fd);
      if (fd !== 0 && !file?.bytes) return BADF;
      let sum = 0;
      for (const part of parts(at, count)) {
        if (fd === 0) break;
        const some = file.bytes.all().subarray(file.at, file.at + part.length);
        part.set(some);
        file.at += some.length;
        sum += some.length;
      }
      set32(read, sum);
      return OK;
    },
    fd_seek(fd, by, from, at) {
      const file = open.get(fd);
      if (!file?.bytes) return BADF;
      const place = [0, file.at, file.bytes.length][from] + Number(by);
      if (!(place >= 0)) return INVAL;
      file.at = place;
      set64(at, place);
      return OK;
    },
    fd_sync: () => OK,
    fd_datasync: () => OK,
    fd_close: (fd) => (open.delete(fd) || fd <= 2 ? OK : BADF),

    path_open(fd, _links, name, length, flags, _rights, _inherited, mode, at) {
      const path = named(fd, name, length);
      const folder = folders.has(path);
      if (disk.has(path) || folder) {
        if (flags & EXCLUSIVE) return EXIST;
        if (flags & MUST_BE_FOLDER && !folder) return NOTDIR;
      } else {
        if (!(flags & CREATE) || !folders.has(parent(path))) return NOENT;
        disk.set(path, new Bytes());
      }
      if (flags & TRUNCATE && !folder) disk.set(path, new Bytes());
      const number = Math.max(...open.keys()) + 1;
      open.set(number, { path, folder, bytes: disk.get(path), at: 0, append: Boolean(mode & APPEND) });
      set32(at, number);
      return OK;
    },
    path_filestat_get: (fd, _links, name, length, at) => about(named(fd, name, length), at),
    path_create_directory(fd, name, length) {
      const path = named(fd, name, length);
      if (folders.has(path) || disk.has(path)) return EXIST;
      if (!folders.has(parent(path))) return NOENT;
      folders.add(path);
      return OK;
    },
    path_remove_directory(fd, name, length) {
      const path = named(fd, name, length);
      if (!folders.has(path)) return disk.has(path) ? NOTDIR : NOENT;
      if ([...disk.keys(), ...folders].some((own) => own.startsWith(`${path}/`))) return NOTEMPTY;
      folders.delete(path);
      return OK;
    },
    path_unlink_file(fd, name, length) {
      const path = named(fd, name, length);
      if (folders.has(path)) return ISDIR;
      return disk.delete(path) ? OK : NOENT;
    },
    path_rename(fd, name, length, toFd, toName, toLength) {
      const [path, to] = [named(fd, name, length), named(toFd, toName, toLength)];
      if (!disk.has(path)) return NOENT;
      disk.set(to, disk.get(path));
      disk.delete(path);
      return OK;
    },
    path_link(fd, _links, name, length, toFd, toName, toLength) {
      const [path, to] = [named(fd, name, length), named(toFd, toName, toLength)];
      if (!disk.has(path)) return NOENT;
      if (disk.has(to) || folders.has(to)) return EXIST;
      disk.set(to, disk.get(path));
      return OK;
    },
    // There are no links: what is no link cannot be read as one.
    path_readlink: (fd, name, length) => (disk.has(named(fd, name, length)) ? INVAL : NOENT),
    fd_readdir(_fd, _buffer, _length, _cookie, used) {
      set32(used, 0);
      return OK;
    },
  };
  const imports = {};
  for (const { module: room, name } of WebAssembly.Module.imports(module)) {
    (imports[room] ??= {})[name] = calls[name] ?? (() => NOSYS);
  }
  const instance = await WebAssembly.instantiate(module, imports);
  memory = instance.exports.memory;
  let exit = 0;
  try {
    instance.exports._start();
  } catch (error) {
    exit = error instanceof Exit ? error.code : 70;
    // A trap is a defect of ours: what it said is all there is to know of it.
    if (!(error instanceof Exit)) out[2].put(encoder.encode(`error: ${error.message}\n`), out[2].length);
  }
  const text = (bytes) => decoder.decode(bytes.all());
  return {
    exit,
    out: text(out[1]),
    err: text(out[2]),
    files: Object.fromEntries([...disk].map(([path, bytes]) => [path, text(bytes)])),
  };
}
