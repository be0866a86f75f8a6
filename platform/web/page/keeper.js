// The keeper: the thread that brings what is written to the book's files into the browser's storage, and answers when
// it is safe there. Never more than one at a time for one book (page.js holds a lock).
//
// Two ways. "handles": the files themselves, as synchronous handles of the origin's private file system; each change is
// carried out in the order in which SQLite made it and brought to the disk where SQLite asked for it, so whatever
// beginning of it a killed browser leaves, SQLite mends on the next start. "chunks": where there are no such handles,
// the files in pieces in IndexedDB, each group of changes in one strict transaction, which stands whole or not at all; an
// owner's token is checked in each, so that a page that was taken over can write nothing any more.
//
// From the page:  {open: name, way?}                         -> {opened, way, files: [{file, bytes}]} or {refused, why, busy}
//                 {group, changes, afterLoss}           -> {safe: group} or {failed: group, why, full} or {takenOver}
//                 {close}                               -> {closed}
// A group that failed fails all after it until one comes with `afterLoss`, which puts right whatever had arrived. Group -1
// is the page's own: it removes the files of a book that is set aside.
'use strict';

const FILES = ['motherbulb.book', 'motherbulb.book-wal', 'motherbulb.book-journal'];
const WRITE = 1, RESIZE = 2, REMOVE = 3, SYNC = 4;
const CHUNK = 32768;

// Calls `visit` with each change of a group (the layout: platform/recorded_disk.hpp).
function eachChange(buffer, visit) {
  const view = new DataView(buffer);
  let at = 0;
  while (at < buffer.byteLength) {
    const kind = view.getUint8(at);
    const file = view.getUint8(at + 1);
    const count = view.getUint32(at + 4, true);
    const place = view.getUint32(at + 8, true) + view.getUint32(at + 12, true) * 4294967296;
    at += 16;
    visit(kind, file, place, new Uint8Array(buffer, at, count));
    at += count;
  }
}

// ------------------------------------------------------------------------------------------------------- handles

class Handles {
  static async open(name) {
    const root = await navigator.storage.getDirectory();
    const folder = await root.getDirectoryHandle(name, {create: true});
    const keeper = new Handles();
    keeper.handles = [];
    try {
      for (const of of [...FILES, 'made']) {
        const file = await folder.getFileHandle(of, {create: true});
        keeper.handles.push(await file.createSyncAccessHandle());
      }
    } catch (fault) {
      keeper.close();
      throw fault;
    }
    keeper.made = keeper.handles.pop();
    // A handle that cannot be written is of no use; found out here and not at the first count.
    if (keeper.made.getSize() === 0) {
      for (const handle of keeper.handles) handle.truncate(0);
      keeper.handles[1].write(new Uint8Array([1]), {at: 0});
      keeper.handles[1].truncate(0);
      keeper.handles[1].flush();
    }
    return keeper;
  }

  files() {
    const found = [];
    this.handles.forEach((handle, file) => {
      const bytes = new Uint8Array(handle.getSize());
      if (bytes.length > 0 && handle.read(bytes, {at: 0}) === bytes.length) found.push({file, bytes: bytes.buffer});
    });
    return found;
  }

  async carryOut(changes) {
    const touched = new Set();
    eachChange(changes, (kind, file, at, bytes) => {
      const handle = this.handles[file];
      if (kind === WRITE) {
        if (handle.write(bytes, {at}) !== bytes.length) throw new DOMException('not all was written', 'QuotaExceededError');
        touched.add(file);
      } else if (kind === RESIZE) {
        handle.truncate(at);
        touched.add(file);
      } else if (kind === REMOVE) {
        handle.truncate(0);
        touched.add(file);
      } else if (kind === SYNC) {
        handle.flush();
        touched.delete(file);
      }
    });
    for (const file of touched) this.handles[file].flush();
    // A book whose making was cut short is no book: it is made anew on the next start.
    if (this.made.getSize() === 0) {
      this.made.write(new Uint8Array([1]), {at: 0});
      this.made.flush();
    }
  }

  close() {
    for (const handle of this.handles.splice(0)) handle.close();
    if (this.made) this.made.close();
  }
}

// -------------------------------------------------------------------------------------------------------- chunks

function done(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
    request.onblocked = () => reject(new DOMException('another page holds the storage', 'NoModificationAllowedError'));
  });
}

function strict(database, stores) {
  return database.transaction(stores, 'readwrite', {durability: 'strict'});
}

function ended(transaction) {
  return new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onabort = () => reject(transaction.error || new DOMException('the transaction was given up', 'AbortError'));
  });
}

class TakenOver extends Error {}

class Chunks {
  static async open(name) {
    const request = indexedDB.open(name, 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore('chunks');
      request.result.createObjectStore('about');
    };
    const keeper = new Chunks();
    keeper.database = await done(request);
    keeper.token = Array.from(crypto.getRandomValues(new Uint32Array(4)), (n) => n.toString(16)).join('-');
    const transaction = strict(keeper.database, ['chunks', 'about']);
    const end = ended(transaction);
    transaction.objectStore('about').put(keeper.token, 'owner');
    keeper.sizes = [0, 0, 0];
    keeper.chunks = new Map();  // "file/number" -> bytes
    transaction.objectStore('about').get('sizes').onsuccess = (event) => {
      if (event.target.result) keeper.sizes = event.target.result;
    };
    const chunks = transaction.objectStore('chunks');
    let keys;
    chunks.getAllKeys().onsuccess = (event) => { keys = event.target.result; };
    chunks.getAll().onsuccess = (event) => {
      event.target.result.forEach((bytes, i) => keeper.chunks.set(keys[i], bytes));
    };
    await end;
    return keeper;
  }

  static async holdsBook(name) {
    if (indexedDB.databases) {
      const all = await indexedDB.databases();
      if (!all.some((one) => one.name === name)) return false;
    }
    const request = indexedDB.open(name, 1);
    let fresh = false;
    request.onupgradeneeded = () => {
      fresh = true;
      request.transaction.abort();
    };
    let database;
    try {
      database = await done(request);
    } catch (fault) {
      if (fresh) return false;
      throw fault;
    }
    const sizes = await done(database.transaction('about').objectStore('about').get('sizes'));
    database.close();
    return Boolean(sizes && sizes[0] > 0);
  }

  files() {
    const found = [];
    this.sizes.forEach((size, file) => {
      if (size === 0) return;
      const bytes = new Uint8Array(size);
      for (let n = 0; n * CHUNK < size; ++n) {
        const chunk = this.chunks.get(`${file}/${n}`);
        if (chunk) bytes.set(chunk.subarray(0, Math.min(CHUNK, size - n * CHUNK)), n * CHUNK);
      }
      found.push({file, bytes: bytes.buffer});
    });
    return found;
  }

  async carryOut(changes) {
    const sizes = [...this.sizes];
    const fresh = new Map();  // chunks as they will be; null: gone
    const chunk = (file, n) => {
      const key = `${file}/${n}`;
      if (!fresh.has(key)) {
        const now = this.chunks.get(key);
        fresh.set(key, now ? now.slice() : new Uint8Array(CHUNK));
      } else if (fresh.get(key) === null) {
        fresh.set(key, new Uint8Array(CHUNK));
      }
      return fresh.get(key);
    };
    const resize = (file, size) => {
      if (size < sizes[file]) {
        const last = Math.floor(size / CHUNK);
        if (size % CHUNK > 0) chunk(file, last).fill(0, size % CHUNK);
        for (let n = Math.ceil(size / CHUNK); n * CHUNK < sizes[file]; ++n) fresh.set(`${file}/${n}`, null);
      }
      sizes[file] = size;
    };
    eachChange(changes, (kind, file, at, bytes) => {
      if (kind === WRITE) {
        for (let from = 0; from < bytes.length;) {
          const n = Math.floor((at + from) / CHUNK);
          const start = at + from - n * CHUNK;
          const part = Math.min(CHUNK - start, bytes.length - from);
          chunk(file, n).set(bytes.subarray(from, from + part), start);
          from += part;
        }
        sizes[file] = Math.max(sizes[file], at + bytes.length);
      } else if (kind === RESIZE) {
        resize(file, at);
      } else if (kind === REMOVE) {
        resize(file, 0);
      }
    });
    const transaction = strict(this.database, ['chunks', 'about']);
    const end = ended(transaction);
    const about = transaction.objectStore('about');
    const chunks = transaction.objectStore('chunks');
    let other = false;
    about.get('owner').onsuccess = (event) => {
      if (event.target.result !== this.token) {
        other = true;
        transaction.abort();
        return;
      }
      about.put(sizes, 'sizes');
      for (const [key, bytes] of fresh) {
        if (bytes === null) {
          chunks.delete(key);
        } else {
          chunks.put(bytes, key);
        }
      }
    };
    try {
      await end;
    } catch (fault) {
      if (other) throw new TakenOver();
      throw fault;
    }
    this.sizes = sizes;
    for (const [key, bytes] of fresh) {
      if (bytes === null) {
        this.chunks.delete(key);
      } else {
        this.chunks.set(key, bytes);
      }
    }
  }

  close() {
    this.database.close();
  }
}

// ------------------------------------------------------------------------------------------------------ the thread

let keeper = null;
let failed = false;
let takenOver = false;

// A book stays where it is; a new one goes where handles can really be opened and written.
async function open(name, wanted) {
  if (wanted !== 'handles' && (wanted === 'chunks' || await Chunks.holdsBook(name))) {
    return ['chunks', await Chunks.open(name)];
  }
  try {
    return ['handles', await Handles.open(name)];
  } catch (fault) {
    if (wanted === 'handles' || fault.name === 'NoModificationAllowedError') throw fault;
    return ['chunks', await Chunks.open(name)];
  }
}

async function answer(message) {
  if (message.open) {
    try {
      const [way, opened] = await open(message.open, message.way);
      keeper = opened;
      const files = keeper.files();
      postMessage({opened: true, way, files}, files.map((one) => one.bytes));
    } catch (fault) {
      postMessage({refused: true, why: String(fault), busy: fault.name === 'NoModificationAllowedError'});
    }
    return;
  }
  if (message.close) {
    if (keeper) keeper.close();
    keeper = null;
    postMessage({closed: true});
    return;
  }
  if (takenOver || (failed && !message.afterLoss)) return;
  try {
    await keeper.carryOut(message.changes);
    failed = false;
    postMessage({safe: message.group});
  } catch (fault) {
    if (fault instanceof TakenOver) {
      takenOver = true;
      postMessage({takenOver: true});
      return;
    }
    failed = true;
    postMessage({failed: message.group, why: String(fault), full: fault.name === 'QuotaExceededError'});
  }
}

let queue = Promise.resolve();
onmessage = (event) => { queue = queue.then(() => answer(event.data)); };
