// Starts the page: unpacks the engine, fetches the words, and runs a job at every change of files.
'use strict';

// Bytes from text of 85 signs, five for four bytes; the first sign says how many bytes only fill the
// last four. (As src/build/text85.rs writes it.)
const bytesOf = (text) => {
  const place = new Uint8Array(128);
  let count = 0;
  for (let code = 33; code < 127; code++) if (!'"#$&\'<>\\`'.includes(String.fromCharCode(code))) place[code] = count++;
  const groups = (text.length - 1) / 5;
  const view = new DataView(new ArrayBuffer(4 * groups));
  for (let group = 0; group < groups; group++) {
    let value = 0;
    for (let at = 5 * group + 1; at < 5 * group + 6; at++) value = value * 85 + place[text.charCodeAt(at)];
    view.setUint32(4 * group, value);
  }
  return new Uint8Array(view.buffer, 0, 4 * groups - Number(text[0]));
};

// The engine as a compiled module, unpacked from the page itself.
const unpack = async () => {
  const bytes = bytesOf(byId('engine').textContent.trim());
  const plain = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('gzip'));
  return WebAssembly.compile(await new Response(plain).arrayBuffer());
};

const start = async () => {
  const script = [byId('glue').textContent, byId('worker').textContent];
  const workshop = {
    script: URL.createObjectURL(new Blob(script, { type: 'text/javascript' })),
    module: await unpack(),
  };
  const crew = { engine: new Engine(workshop), pool: new Pool(workshop), hashing: new Hashing(workshop) };
  const speak = async () => {
    words.fill(await crew.engine.ask('words'));
    language.mark();
    paper.showOutline(words.get('outline'));
  };
  await speak();
  // For tests: the engine's own checks. Not part of the state that is shown.
  Object.defineProperty(state, 'check', { value: () => crew.engine.ask('selfcheck') });

  let job = null;
  const run = () => {
    state.workers = Pool.wanted();
    job = new Job(crew, files, { record: editor.recordFor(files), onOpen: (opened) => editor.opened(files, opened) });
    job.showFiles([]);
    job.run();
  };
  const editor = new Editor(crew.engine, {
    reload: async () => {
      const change = ++changes;
      await stop();
      if (change === changes) run();
    },
    show: (result) => job?.show(result),
  });
  let stopped = Promise.resolve();
  let changes = 0;
  const stop = () => {
    if (job) stopped = job.stop();
    job = null;
    return stopped;
  };
  const files = new Files(async () => {
    const change = ++changes;
    await stop();
    // A later change, made while the earlier job came to rest, is the one that counts.
    if (change !== changes) return;
    offer.hide();
    if (files.isOther) editor.reset();
    byId('start-over').disabled = files.empty;
    save.record = null;
    if (files.empty) {
      setPhase('empty');
      paper.clear();
      offer.show();
      paper.hideProblems();
      tray.hideProgress();
      tray.hideFindings();
      tray.showFiles([], [], []);
    } else {
      run();
    }
    save.refresh();
  });

  save.listen();
  save.onSaved = () => editor.setUnsaved(false);
  editor.listen();
  blanks.listen(editor);
  const offer = new Offer(crew.engine, files);
  editor.onTaken = () => offer.taken();
  offer.show();
  byId('example').addEventListener('click', () => files.tryExample());
  byId('start-over').addEventListener('click', () => files.clear());
  byId('again').addEventListener('click', () => files.onChange());
  byId('cancel').addEventListener('click', async () => {
    byId('cancel').hidden = true;
    const change = changes;
    await stop();
    if (change !== changes) return;
    setPhase('cancelled');
    tray.showProgress(words.get('cancelled'), null);
    tray.say(words.get('cancelled'));
    save.refresh();
  });
  byId('other-language').addEventListener('click', async () => {
    language.choose(words.get('other_tag'));
    const refused = state.phase === 'refused';
    await crew.engine.ask('set_language', language.tag);
    crew.pool.renew();
    await speak();
    if (files.empty) offer.show();
    // What stands in the way is found again, and said in the other language.
    else if (refused) files.onChange();
    else await job?.speak();
  });
  byId('other-language').disabled = false;
  byId('example').disabled = false;
  state.ready = true;
};

start().catch((error) => {
  console.error(error);
  setPhase('unable');
  byId('unable').hidden = false;
});
