// Reckons beside the page, which goes on meanwhile: the same program, without a window. Gets {program, files, job,
// wantedYet}: the compiled program, the book's files (none where the job does not ask the book), the job, and an address
// that is there for as long as it shall go on; answers {share, target} while it goes on, then {answer} or {fault}. Once
// the address is gone it answers with what it has found by then. Whoever does not want even that ends this worker.
'use strict';

importScripts('motherbulb.js');

const LOOK_EVERY = 100;  // ms
let wantedYet = '';
let lookedAt = 0;
let gone = false;

function isThere(address) {
  try {
    const look = new XMLHttpRequest();
    look.open('GET', address, false);
    look.send();
    return look.status === 200;
  } catch (fault) {
    return false;
  }
}

const page = {
  remembered: () => '',
  remember() {},
  reckoningIsWanted() {
    if (gone || !wantedYet || performance.now() < lookedAt + LOOK_EVERY) return !gone;
    lookedAt = performance.now();
    gone = !isThere(wantedYet);
    return !gone;
  },
  reckoningGoesOn: (share, target) => self.postMessage({share, target}),
};

async function reckon({program: compiled, files, job, wantedYet: address}) {
  // A browser in which it cannot look so goes on to the end.
  if (isThere(URL.createObjectURL(new Blob(['1'])))) wantedYet = address;
  const program = await createMotherbulb({
    page,
    instantiateWasm(imports, done) {
      WebAssembly.instantiate(compiled, imports).then((instance) => done(instance, compiled));
      return {};
    },
  });
  program.FS.mkdir('/book');
  for (const {name, bytes} of files) program.FS.writeFile(`/book/${name}`, bytes);
  const at = program._malloc(job.length);
  program.HEAPU8.set(job, at);
  const size = program._motherbulb_reckon(at, job.length);
  program._free(at);
  const start = program._motherbulb_answer();
  const answer = program.HEAPU8.slice(start, start + size);
  self.postMessage({answer}, [answer.buffer]);
}

self.onmessage = (event) => {
  reckon(event.data).catch((fault) => self.postMessage({fault: String(fault && fault.message ? fault.message : fault)}));
};
