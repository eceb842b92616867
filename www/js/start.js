// Starts the page: unpacks the engine, fetches the words, and runs a job at every change of files.
'use strict';

// Bytes from text of a sign a byte, as src/build/eights.rs writes it: `=` stands before one that a page may
// not carry, which follows with 64 added. Line feeds are the markup's.
const bytesOf = (text) => {
  const known = new Uint8Array(65536);
  const all = Uint8Array.from({ length: 256 }, (_, byte) => byte);
  const signs = new TextDecoder('windows-1252').decode(all);
  for (let byte = 0; byte < 256; byte++) known[signs.charCodeAt(byte)] = byte;
  const bytes = new Uint8Array(text.length);
  let count = 0;
  for (let place = 0; place < text.length; place++) {
    const code = text.charCodeAt(place);
    if (code === 10) continue;
    bytes[count++] = code === 61 ? known[text.charCodeAt(++place)] - 64 : known[code];
  }
  return bytes.subarray(0, count);
};

// The engine as a compiled module, unpacked from the page itself.
const unpack = async () => {
  const bytes = bytesOf(byId('engine').textContent);
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
  // How a file of others is read is asked; the sheet follows the answers.
  const onAsk = (picks) => {
    pick.show(picks, crew.engine, (draft) => {
      // A record that was given keeps its name.
      const { record_name: name } = job.opened;
      editor.take(files, draft);
      editor.name = name;
      picked = true;
      editor.reload();
    });
  };
  let picked = false;
  // A file is read otherwise: an edit like others. Until it is taken, the sheet and all behind it stay.
  const readOtherwise = async () => {
    const picks = await crew.engine.tell('pick_again');
    if (picks.length === 0 || state.phase !== 'done') return;
    const go = (phase) => {
      setPhase(phase);
      save.refresh();
      editor.refresh();
      byId('pick-again').disabled = phase === 'asking';
    };
    const back = () => {
      pick.hide();
      go('done');
    };
    go('asking');
    pick.show(picks, crew.engine, async (draft) => {
      back();
      const line = await editor.takeDraft(draft);
      if (!line.ok) paper.showProblems(words.get('refused'), line.problems ?? [line.problem]);
    }, () => {
      back();
      byId('pick-again').focus();
    });
    scrollTo(0, 0);
  };
  const run = () => {
    byId('pick-again').hidden = !picked;
    byId('pick-again').disabled = false;
    state.workers = Pool.wanted();
    job = new Job(crew, files, { record: editor.recordFor(files), onOpen: (opened) => editor.opened(files, opened), onAsk });
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
    if (files.isOther) {
      picked = false;
      editor.reset();
      pick.forget();
      beside.close(false);
    }
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
  pointing.listen(crew.engine);
  asks.listen();
  const offer = new Offer(crew.engine, files);
  editor.onTaken = () => offer.taken();
  offer.show();
  byId('example').addEventListener('click', () => files.tryExample());
  byId('pick-again').addEventListener('click', () => {
    if (state.phase !== 'done' || pick.open) return;
    // From the reading in use, whatever was answered or typed since.
    pick.kept = {};
    readOtherwise();
  });
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
    else if (state.phase === 'asking' && pick.open && pick.leave) {
      setPhase('done');
      await job.speak();
      await readOtherwise();
    } else if (state.phase === 'asking') editor.reload();
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
