// The page round the program: gives it the book's files, the fonts and the device's ways in and out, brings what it
// writes to the keeper, and shows what only a page can say (another tab, a new version, no storage).
'use strict';

(() => {
  const at = (id) => document.getElementById(id);
  const asked = new URLSearchParams(location.search);
  const BOOK_FILES = ['motherbulb.book', 'motherbulb.book-wal', 'motherbulb.book-journal'];
  // The demo is a book of its own and never mixes with the grower's.
  const BOOK = asked.has('demo') ? 'motherbulb-demo' : 'motherbulb';
  const FONTS = ['OpenSans-CondBold.ttf', 'Vollkorn-SemiBold.ttf', 'Inter-Medium.otf', 'Inter-SemiBold.otf',
    'NotoSans-Regular.ttf'];
  const LEAVING = 500;          // ms in which a page that was closed just now lets go of the book
  const FIRST_PATIENCE = 3000;  // ms in which another page hands the book over

  let program = null;  // the module, once it runs
  let keeper = null;
  let way = '';
  let running = false;
  let readOnly = false;

  // ---------------------------------------------------------------------------------------------- what only a page says

  function showPanel(title, words, act, then, other, thenOther) {
    // It stands in the place of the screens: what went on beside them ends.
    camera.stop();
    stopReckoning();
    at('begin').hidden = true;
    at('panel').hidden = false;
    at('panel-title').textContent = title;
    at('panel-words').textContent = words;
    for (const [id, said, does] of [['panel-act', act, then], ['panel-other', other, thenOther]]) {
      const key = at(id);
      key.hidden = !said;
      key.textContent = said || '';
      key.onclick = does || null;
    }
    if (act) at('panel-act').focus();
    document.documentElement.dataset.state = 'panel';
  }
  function hidePanel() {
    at('panel').hidden = true;
  }

  function stopped(fault) {
    if (!running && !program) {
      showPanel('Motherbulb cannot start here', `${fault && fault.message ? fault.message : fault}`, 'Try again',
        () => location.reload());
      return;
    }
    running = false;
    console.error(fault);
    showPanel('The program stopped',
      'By a fault of its own. Everything that was said to be kept is safe; what was being counted is not kept. ' +
      `(${fault && fault.message ? fault.message : fault})`, 'Open the book again', () => location.reload());
  }

  // ------------------------------------------------------------------------------------------------ one page at a time

  const channel = 'BroadcastChannel' in window ? new BroadcastChannel(BOOK) : null;
  let letGo = null;

  function within(ms) {
    const patience = new AbortController();
    setTimeout(() => patience.abort(), ms);
    return patience.signal;
  }

  function takeLock(options) {
    return new Promise((resolve) => {
      navigator.locks.request(BOOK, options, (lock) => {
        if (!lock) {
          resolve(false);
          return undefined;
        }
        resolve(true);
        return new Promise((release) => { letGo = release; });
      }).catch((fault) => {
        // Taken from us, or waited for in vain.
        if (letGo) {
          elsewhere();
        } else {
          resolve(false);
        }
      });
    });
  }

  function elsewhere() {
    running = false;
    showPanel('The book is open in another window',
      'Only one window may write in it. Everything kept here is in the book there too.', 'Use it here', () => {
        showPanel('One moment', 'The other window hands the book over.');
        if (channel) channel.postMessage('hand over');
        // The book is read anew: the other window wrote in it.
        sessionStorage.setItem(`take over ${BOOK}`, '1');
        setTimeout(() => location.reload(), 200);
      });
  }

  async function handOver() {
    if (!running) return;
    running = false;
    const patience = Date.now() + FIRST_PATIENCE;
    while (pending.size > 0 && Date.now() < patience) await new Promise((next) => setTimeout(next, 10));
    if (keeper) {
      await new Promise((closed) => {
        keeper.whenClosed = closed;
        keeper.postMessage({close: true});
        setTimeout(closed, FIRST_PATIENCE);
      });
      keeper.terminate();
    }
    if (letGo) letGo();
    letGo = null;
    elsewhere();
  }
  if (channel) channel.onmessage = (event) => { if (event.data === 'hand over') handOver(); };

  // Whether this page may write. It says so itself where it may not.
  async function mayWrite() {
    if (!navigator.locks) return false;
    // Asked for once, and not again at every later start.
    const wanted = sessionStorage.getItem(`take over ${BOOK}`) !== null;
    sessionStorage.removeItem(`take over ${BOOK}`);
    if (await takeLock(wanted ? {ifAvailable: true} : {signal: within(LEAVING)})) return true;
    if (wanted) {
      if (channel) channel.postMessage('hand over');
      if (await takeLock({signal: within(FIRST_PATIENCE)})) return true;
      // It does not answer: a page that sleeps.
      if (await takeLock({steal: true})) return true;
    }
    return null;
  }

  // ------------------------------------------------------------------------------------------------------- the keeper

  const pending = new Map();  // group -> when it was handed over
  let lostLast = false;
  const keepTimes = [];       // ms from handing over to the answer
  const frameTimes = [];      // ms for a frame and what led to it
  function note(times, ms) {
    times.push(ms);
    if (times.length > 200) times.shift();
  }

  function openKeeper() {
    return new Promise((resolve, reject) => {
      keeper = new Worker('keeper.js');
      keeper.onerror = (event) => reject(new Error(event.message || 'the keeper did not start'));
      keeper.onmessage = (event) => {
        const said = event.data;
        if (said.opened) {
          way = said.way;
          resolve(said.files);
        } else if (said.refused) {
          const fault = new Error(said.why);
          fault.busy = said.busy;
          reject(fault);
        } else if (said.closed) {
          if (keeper.whenClosed) keeper.whenClosed();
        } else if ('safe' in said) {
          note(keepTimes, performance.now() - pending.get(said.safe));
          for (const group of [...pending.keys()]) if (group <= said.safe) pending.delete(group);
          lostLast = false;
          program._motherbulb_safe(said.safe);
          step();
        } else if ('failed' in said) {
          pending.clear();
          const why = said.full
            ? 'The browser has no more room for the book. Hand out a parcel, then clear some room on this device; what you counted waits here'
            : `The browser could not store it (${said.why}). What you counted waits here; try again`;
          callWithText('_motherbulb_failed', why);
          step();
        } else if (said.takenOver) {
          pending.clear();
          elsewhere();
        }
      };
      keeper.postMessage({open: BOOK, way: asked.get('way') || undefined});
    });
  }

  function bringToKeeper() {
    const group = program._motherbulb_take_changes();
    if (group === 0) return;
    const start = program._motherbulb_changes();
    const changes = program.HEAPU8.slice(start, start + program._motherbulb_changes_size()).buffer;
    const afterLoss = program._motherbulb_changes_after_loss() !== 0;
    pending.set(group, performance.now());
    const send = () => keeper.postMessage({group, changes, afterLoss}, [changes]);
    // What fails again and again is not tried without a pause.
    if (afterLoss && lostLast) {
      setTimeout(send, 2000);
    } else {
      send();
    }
    lostLast = afterLoss;
  }

  // ------------------------------------------------------------------------------------------------------- one step

  let scheduled = false;
  let timer = 0;
  let ratio = window.devicePixelRatio;
  let frames = 0;
  let mirrorTimer = 0;

  function wake() {
    if (scheduled || !running) return;
    scheduled = true;
    // A hidden page gets no frames, and must still hear the keeper.
    if (document.hidden) {
      setTimeout(step, 50);
    } else {
      requestAnimationFrame(step);
    }
  }

  function step() {
    scheduled = false;
    if (!running) return;
    clearTimeout(timer);
    if (ratio !== window.devicePixelRatio) {
      ratio = window.devicePixelRatio;
      window.dispatchEvent(new Event('resize'));
    }
    let wait;
    try {
      const start = performance.now();
      const drawn = program._motherbulb_frames();
      wait = program._motherbulb_step();
      const more = program._motherbulb_frames() - drawn;
      if (more > 0) note(frameTimes, (performance.now() - start) / more);
      bringToKeeper();
      if (camera.wanted) {
        const [x, y, width, height] = program.UTF8ToString(program._motherbulb_camera_place()).split(' ')
          .map((one) => one / ratio);
        camera.place(x, y, width, height);
      }
    } catch (fault) {
      stopped(fault);
      return;
    }
    if (wait >= 0 && wait <= 16) {
      wake();
    } else {
      if (wait > 0) timer = setTimeout(wake, wait);
      const now = program._motherbulb_frames();
      if (now !== frames) {
        frames = now;
        clearTimeout(mirrorTimer);
        mirrorTimer = setTimeout(refreshMirror, 0);
      }
    }
  }

  function callWithText(name, ...texts) {
    const copies = texts.map((text) => program.stringToNewUTF8(text));
    const answer = program[name](...copies);
    copies.forEach((copy) => program._free(copy));
    return answer;
  }

  // ------------------------------------------------------------------------- what can be touched and read, once more

  const elements = new Map();  // key -> element
  let told = null;

  function keyOf(item, i) {
    return item.kind === 'text' ? `text ${i}` : `${item.kind} ${item.name}`;
  }

  function elementFor(item, key) {
    const there = elements.get(key);
    if (there) return there;
    let made;
    if (item.kind === 'control') {
      made = document.createElement('button');
      made.type = 'button';
      made.tabIndex = 0;
      made.dataset.name = item.name;
      made.addEventListener('click', () => callWithText('_motherbulb_press', item.name) || step());
    } else if (item.kind === 'field') {
      made = document.createElement('input');
      made.type = 'text';
      made.autocomplete = 'off';
      made.spellcheck = false;
      made.enterKeyHint = 'done';
      made.dataset.name = item.name;
      made.addEventListener('input', () => {
        callWithText('_motherbulb_write', item.name, made.value);
        step();
      });
      made.addEventListener('keydown', (event) => { if (event.key === 'Enter') made.blur(); });
    } else {
      made = document.createElement('span');
    }
    elements.set(key, made);
    return made;
  }

  function refreshMirror() {
    if (!running) return;
    const json = program.UTF8ToString(program._motherbulb_spoken());
    if (told && told.json === json) return;
    told = JSON.parse(json);
    told.json = json;
    const share = told.scale / ratio;
    const keys = [];
    let texts = 0;
    const wanted = told.items.map((item) => {
      const key = keyOf(item, item.kind === 'text' ? texts++ : 0);
      keys.push(key);
      const element = elementFor(item, key);
      element.style.left = `${item.x * share}px`;
      element.style.top = `${item.y * share}px`;
      element.style.width = `${item.w * share}px`;
      element.style.height = `${item.h * share}px`;
      if (item.kind === 'field') {
        element.setAttribute('aria-label', item.words);
        if (element.value !== item.value && !element.matches(':focus')) element.value = item.value;
      } else {
        if (element.textContent !== item.words) element.textContent = item.words;
        if (item.kind === 'control') {
          element.disabled = item.enabled === false;
          if (item.chosen) {
            element.setAttribute('aria-pressed', 'true');
          } else {
            element.removeAttribute('aria-pressed');
          }
        }
      }
      return element;
    });
    for (const [key, element] of [...elements]) {
      if (!keys.includes(key)) {
        element.remove();
        elements.delete(key);
      }
    }
    // In reading order, and without moving what stands right already: what has the focus keeps it.
    const mirror = at('mirror');
    let next = mirror.firstChild;
    for (const element of wanted) {
      if (element === next) {
        next = next.nextSibling;
      } else {
        mirror.insertBefore(element, next);
      }
    }
    const say = told.trouble || told.kept;
    if (at('said').textContent !== say) at('said').textContent = say;
    document.documentElement.classList.toggle('night', told.night);
    if (told.kept) askToPersist();
  }

  // ------------------------------------------------------------------------------------------- how safe the storage is

  let persistAsked = false;
  async function askToPersist() {
    if (persistAsked) return;
    persistAsked = true;
    if (navigator.storage && navigator.storage.persist) {
      try {
        await navigator.storage.persist();
      } catch (fault) {
        console.warn(fault);
      }
    }
    tellStorage();
  }
  async function tellStorage() {
    if (!running) return;
    let persisted = -1, used = 0, quota = 0;
    try {
      if (navigator.storage && navigator.storage.persisted) persisted = await navigator.storage.persisted() ? 1 : 0;
      if (navigator.storage && navigator.storage.estimate) {
        const estimate = await navigator.storage.estimate();
        used = estimate.usage || 0;
        quota = estimate.quota || 0;
      }
    } catch (fault) {
      console.warn(fault);
    }
    program._motherbulb_storage(persisted, used, quota);
    wake();
  }

  // -------------------------------------------------------------------------------------------------- files in and out

  async function takeFiles(files) {
    for (const file of files) {
      const bytes = new Uint8Array(await file.arrayBuffer());
      const name = file.name.replace(/[\/\0]/g, '-') || 'parcel';
      let path = `/parcels/${name}`;
      for (let nth = 2; program.FS.analyzePath(path).exists && !sameBytes(program.FS.readFile(path), bytes); ++nth) {
        path = `/parcels/${nth}-${name}`;
      }
      program.FS.writeFile(path, bytes);
      callWithText('_motherbulb_dropped', path);
    }
    step();
  }
  function sameBytes(a, b) {
    return a.length === b.length && a.every((byte, i) => byte === b[i]);
  }

  function save(name, blob) {
    const link = document.createElement('a');
    link.href = URL.createObjectURL(blob);
    link.download = name;
    document.body.appendChild(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
  }

  // ---------------------------------------------------------------------------------------------- a book of no more use

  // Its files go out as they are, each by a tap of its own, since a browser holds a second one back; only then may a new
  // book begin in their place.
  function setAside(title, words, files, leave) {
    running = false;
    const there = files.filter(({bytes}) => bytes.byteLength > 0);
    const names = there.map(({file}) => BOOK_FILES[file]).join(' and ');
    const saveNext = (nth) => {
      if (nth === there.length) {
        showPanel('Look whether it was saved',
          `Is ${names} among this browser's downloads? Then a new, empty book can begin here. What only the old one holds lies in what was saved, and nowhere else.`,
          'Begin a new book', beginAnew, 'Leave it as it is', leave);
        return;
      }
      const {file, bytes} = there[nth];
      showPanel(title, nth === 0
        ? `${words}. Save its file first, as it is. Then a new book can begin here: choose the latest backup and a parcel from every device for it.`
        : `A part of it lies in a second file, ${BOOK_FILES[file]}. Save that too.`,
        nth === 0 ? 'Save its file' : 'Save that too', () => {
          save(BOOK_FILES[file], new Blob([bytes]));
          saveNext(nth + 1);
        }, 'Leave it as it is', leave);
    };
    saveNext(0);
  }

  // The store itself goes first: what a page that is killed in between leaves of its log belongs to no store, and SQLite
  // puts it away.
  function beginAnew() {
    showPanel('One moment', 'A new book begins.');
    const REMOVE = 3, SYNC = 4, ROW = 16, LAST = -1;
    const rows = [0, 1, 2].flatMap((file) => [[REMOVE, file], [SYNC, file]]);
    const changes = new Uint8Array(rows.length * ROW);
    rows.forEach(([kind, file], i) => changes.set([kind, file], i * ROW));
    const failed = (why) => showPanel('No new book could begin', `The browser did not clear the old one (${why}).`,
      'Try again', beginAnew, 'Leave it', () => location.reload());
    const patience = setTimeout(() => failed('it does not answer'), 10000);
    // What went before it may be answered still.
    keeper.onmessage = ({data}) => {
      if (data.safe !== LAST && data.failed !== LAST && !data.takenOver) return;
      clearTimeout(patience);
      if (data.safe === LAST) location.reload();
      else failed(data.takenOver ? 'another window holds it' : data.why);
    };
    keeper.postMessage({group: LAST, changes: changes.buffer, afterLoss: true}, [changes.buffer]);
  }

  // ------------------------------------------------------------------------------------------ what takes longer to reckon

  let compiled = null;  // the program, as it was compiled for this page
  let reckoner = null;
  // A worker that reckons hears no message. But it can look whether this address is still there.
  let wantedYet = '';

  function startReckoning(job, withBook) {
    stopReckoning();
    const files = [];
    if (withBook) {
      for (const name of BOOK_FILES) {
        if (program.FS.analyzePath(`/book/${name}`).exists) files.push({name, bytes: program.FS.readFile(`/book/${name}`)});
      }
    }
    const mine = new Worker('reckoner.js');
    wantedYet = URL.createObjectURL(new Blob(['1']));
    const end = (tell) => {
      if (mine !== reckoner) return;
      stopReckoning();
      tell();
      step();
    };
    const fail = (why) => end(() => callWithText('_motherbulb_not_reckoned', `It could not be reckoned here (${why}); try again`));
    mine.onerror = (event) => fail(event.message || 'it did not start');
    mine.onmessage = (event) => {
      if (mine !== reckoner) return;
      const said = event.data;
      if (said.answer) {
        end(() => {
          const at = program._malloc(said.answer.length);
          program.HEAPU8.set(said.answer, at);
          program._motherbulb_reckoned(at, said.answer.length);
          program._free(at);
        });
      } else if (said.fault) {
        fail(said.fault);
      } else {
        program._motherbulb_reckoning_goes_on(said.share, said.target);
        wake();
      }
    };
    reckoner = mine;
    mine.postMessage({program: compiled, files, job, wantedYet});
  }
  function stopReckoning() {
    if (reckoner) reckoner.terminate();
    reckoner = null;
    hurryReckoning();
  }
  function hurryReckoning() {
    if (wantedYet) URL.revokeObjectURL(wantedYet);
    wantedYet = '';
  }

  const camera = codeCamera({
    video: at('camera'),
    onText(text) {
      callWithText('_motherbulb_code', text);
      step();
    },
    onFailed(words) {
      callWithText('_motherbulb_camera_failed', words);
      step();
    },
  });

  const page = {
    remembered(name) {
      try {
        return localStorage.getItem(`${BOOK} ${name}`) || '';
      } catch (fault) {
        return '';
      }
    },
    remember(name, text) {
      try {
        localStorage.setItem(`${BOOK} ${name}`, text);
      } catch (fault) {
        console.warn(fault);  // what is lost with it: who was here last; and a new writer begins
      }
    },
    canShare() {
      try {
        return Boolean(navigator.canShare && navigator.share &&
          navigator.canShare({files: [new File([new Uint8Array(1)], 'a.parcel', {type: 'application/octet-stream'})]}));
      } catch (fault) {
        return false;
      }
    },
    handOver(path, share) {
      const name = path.slice(path.lastIndexOf('/') + 1);
      const bytes = program.FS.readFile(path);
      program.FS.unlink(path);
      const types = {html: 'text/html', ics: 'text/calendar', csv: 'text/csv'};
      const type = types[name.slice(name.lastIndexOf('.') + 1)] || 'application/octet-stream';
      const file = new File([bytes], name, {type});
      if (!share) {
        save(name, file);
        return;
      }
      navigator.share({files: [file], title: name}).catch((fault) => {
        // Put aside by the person: nothing to say. Refused by the browser: saved instead.
        if (fault.name !== 'AbortError') save(name, file);
      });
    },
    hasCamera() {
      return Boolean(navigator.mediaDevices && navigator.mediaDevices.getUserMedia);
    },
    startCamera: camera.start,
    stopCamera: camera.stop,
    startReckoning,
    stopReckoning,
    hurryReckoning,
    openDemo() {
      location.search = '?demo';
    },
    setAside() {
      const files = BOOK_FILES.map((name, file) => ({name: `/book/${name}`, file}))
        .filter(({name}) => program.FS.analyzePath(name).exists)
        .map(({name, file}) => ({file, bytes: program.FS.readFile(name)}));
      setAside('Set this book aside', 'A damaged book is not counted in any further', files, () => {
        hidePanel();
        document.documentElement.dataset.state = 'running';
        running = true;
        wake();
      });
    },
    pickFiles() {
      at('pick').value = '';
      at('pick').click();
    },
    wake,
  };

  at('pick').addEventListener('change', () => takeFiles([...at('pick').files]).catch(stopped));
  window.addEventListener('dragover', (event) => event.preventDefault());
  window.addEventListener('drop', (event) => {
    event.preventDefault();
    if (running && event.dataTransfer) takeFiles([...event.dataTransfer.files]).catch(stopped);
  });

  // ----------------------------------------------------------------------------------------------------- back, closing

  function watchWayBack() {
    // One step lies ahead of the page's own, so that going back is heard; it is laid anew each time.
    history.replaceState({motherbulb: 'ground'}, '');
    history.pushState({motherbulb: 'here'}, '');
    window.addEventListener('popstate', () => {
      if (!running) return;
      const went = program._motherbulb_back() !== 0;
      if (went || program._motherbulb_unsaved() !== 0) {
        history.pushState({motherbulb: 'here'}, '');
        wake();
      } else {
        history.back();
      }
    });
    window.addEventListener('beforeunload', (event) => {
      if (running && program._motherbulb_unsaved() !== 0) {
        event.preventDefault();
        event.returnValue = '';
      }
    });
  }

  // ------------------------------------------------------------------------------------------------------ new versions

  function offerVersion(registration) {
    const offer = () => {
      if (!registration.waiting || !navigator.serviceWorker.controller) return;
      at('banner-words').textContent = 'A new version of Motherbulb is here.';
      at('banner').hidden = false;
      window.dispatchEvent(new Event('resize'));
      at('banner-later').onclick = () => {
        at('banner').hidden = true;
        window.dispatchEvent(new Event('resize'));
      };
      at('banner-now').onclick = () => {
        if (running && program._motherbulb_unsaved() !== 0) {
          at('banner-words').textContent = 'Keep what you are counting first; then use the new version.';
          return;
        }
        navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), {once: true});
        registration.waiting.postMessage('use');
      };
    };
    const watch = (coming) => {
      if (coming) coming.addEventListener('statechange', () => { if (coming.state === 'installed') offer(); });
    };
    offer();
    watch(registration.installing);  // found before this page could listen
    registration.addEventListener('updatefound', () => watch(registration.installing));
    const look = () => registration.update().catch(() => {});  // no network: the next time
    setInterval(look, 3600000);
    window.addEventListener('online', look);
  }

  // ------------------------------------------------------------------------------------------------------------- begin

  // Compiled once: what reckons beside the page runs the same.
  function instantiateWasm(imports, done) {
    const coming = fetch('motherbulb.wasm');
    const streamed = WebAssembly.compileStreaming ? WebAssembly.compileStreaming(coming) : Promise.reject(new Error('none'));
    // A server that calls it something else than it is: taken whole, then.
    streamed.catch(async () => WebAssembly.compile(await (await fetch('motherbulb.wasm')).arrayBuffer()))
      .then(async (module) => {
        compiled = module;
        done(await WebAssembly.instantiate(module, imports), module);
      }).catch(stopped);
    return {};
  }

  async function begin() {
    if ('serviceWorker' in navigator) {
      navigator.serviceWorker.register('service.js').then(offerVersion).catch((fault) => console.warn(fault));
    }
    const may = await mayWrite();
    if (may === null) {
      elsewhere();
      return;
    }
    readOnly = may === false;
    const coming = createMotherbulb({page, canvas: at('canvas'), instantiateWasm});
    const fonts = FONTS.map(async (name) => {
      const response = await fetch(`fonts/${name}`);
      if (!response.ok) throw new Error(`the font ${name} is not there; load the page again`);
      return [name, new Uint8Array(await response.arrayBuffer())];
    });
    let files;
    for (let tries = 0; ; ++tries) {
      try {
        files = await openKeeper();
        break;
      } catch (fault) {
        // The page that held it before may still be closing.
        if (keeper) keeper.terminate();
        if (!fault.busy || tries >= 20) {
          showPanel('The book cannot be opened here',
            fault.busy ? 'Another window holds it. Close that one, then try again.'
              : `This browser gives no storage for records, as in a private window. Nothing is lost; open the page in an ordinary window. (${fault.message})`,
            'Try again', () => location.reload());
          return;
        }
        await new Promise((next) => setTimeout(next, 150));
      }
    }
    program = await coming;
    program.FS.mkdir('/fonts');
    program.FS.mkdir('/book');
    program.FS.mkdir('/state');
    for (const [name, bytes] of await Promise.all(fonts)) program.FS.writeFile(`/fonts/${name}`, bytes);
    for (const {file, bytes} of files) program.FS.writeFile(`/book/${BOOK_FILES[file]}`, new Uint8Array(bytes));
    const window_ = page.remembered('window');
    if (window_) program.FS.writeFile('/state/window', window_);
    if (readOnly && files.length === 0) {
      showPanel('Nothing can be recorded here',
        'This browser cannot keep two windows apart, so it would not be safe to write. Open the page by its https address, or use another browser.');
      return;
    }
    const stage = at('stage').getBoundingClientRect();
    const hindered = program.UTF8ToString(program._motherbulb_start(Math.round(stage.width), Math.round(stage.height),
      readOnly ? 1 : 0, asked.has('demo') ? 1 : 0));
    if (hindered) {
      if (program._motherbulb_of_no_use()) {
        console.warn(hindered);
        setAside('The book cannot be opened', 'The file in which this browser keeps it is damaged', files,
          () => location.reload());
      } else {
        showPanel('The book cannot be opened', hindered, 'Try again', () => location.reload());
      }
      return;
    }
    running = true;
    at('begin').hidden = true;
    hidePanel();
    if (readOnly) {
      at('banner-words').textContent = 'Read only: this browser cannot keep two windows apart, so nothing is recorded here. Open the page by its https address.';
      at('banner-now').hidden = true;
      at('banner-later').hidden = true;
      at('banner').hidden = false;
      window.dispatchEvent(new Event('resize'));
    }
    at('canvas').addEventListener('webglcontextlost', () =>
      showPanel('The picture was lost', 'The device took the drawing surface away. Everything kept is safe.', 'Go on',
        () => location.reload()));
    at('canvas').focus({preventScroll: true});
    document.addEventListener('visibilitychange', wake);
    watchWayBack();
    step();
    document.documentElement.dataset.state = 'running';
    document.documentElement.dataset.way = way;
    performance.mark('first frame');
    tellStorage();
  }

  // What may be looked at from outside, by tests and by whoever is curious.
  window.motherbulb = {
    get frames() { return program ? program._motherbulb_frames() : 0; },
    get entries() { return program._motherbulb_entries(); },
    get digest() { return program.UTF8ToString(program._motherbulb_digest()); },
    get told() { return told; },
    get way() { return way; },
    get reckons() { return reckoner !== null; },
    get pending() { return pending.size; },
    get keptIn() { return [...keepTimes]; },
    get drawnIn() { return [...frameTimes]; },
  };

  begin().catch(stopped);
})();
