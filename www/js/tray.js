// The tray beside the sheet: files and their roles, progress, findings. Text goes in as text.
'use strict';

// Gravest first.
const GRAVITY = ['unfit', 'caution', 'note'];
// A screen reader hears the progress this often, in milliseconds.
const SPOKEN_EVERY = 5000;

const made = (tag, className, text) => {
  const element = document.createElement(tag);
  if (className) element.className = className;
  if (text !== undefined) element.textContent = text;
  return element;
};

const tray = {
  spoken: 0,

  // `files` are File objects; `known` what the engine says of files; `problems` those with a file.
  showFiles(files, known, problems, onRemove) {
    const said = new Map(known.map((file) => [file.name, file]));
    const names = files.length > 0 ? files.map(({ name }) => name) : known.map(({ name }) => name);
    const wrong = new Set(problems.map(({ file }) => file));
    byId('files').replaceChildren(...names.map((name) => {
      const { role, text } = said.get(name) ?? {};
      const row = made('li', wrong.has(name) ? 'wrong' : '');
      row.append(made('span', 'file-name', name));
      if (files.length > 0) {
        const remove = made('button', 'word file-remove', words.get('remove'));
        remove.type = 'button';
        remove.setAttribute('aria-label', `${words.get('remove')} ${name}`);
        remove.addEventListener('click', () => onRemove(name));
        row.append(remove);
      }
      if (role || text) {
        const line = made('span', 'file-role', role ?? '');
        if (text) line.append(role ? ' · ' : '', text);
        row.append(line);
      }
      return row;
    }));
  },

  // `share` is the part done, 0 to 1; undefined when it is not known.
  showProgress(text, share) {
    byId('progress').hidden = false;
    byId('progress-text').textContent = text;
    byId('cancel').hidden = state.phase !== 'working';
    byId('again').hidden = state.phase !== 'cancelled';
    const bar = byId('progress-bar');
    bar.hidden = share === null;
    if (typeof share === 'number') bar.value = share;
    else bar.removeAttribute('value');
    if (performance.now() - tray.spoken > SPOKEN_EVERY) tray.say(text);
  },

  hideProgress() {
    byId('progress').hidden = true;
  },

  say(text) {
    tray.spoken = performance.now();
    byId('said').textContent = text;
  },

  showFindings(findings) {
    byId('findings-part').hidden = false;
    byId('findings-none').hidden = findings.length > 0;
    const sorted = findings
      .map((finding, index) => ({ ...finding, index }))
      .sort((a, b) => GRAVITY.indexOf(a.severity) - GRAVITY.indexOf(b.severity));
    // The list is new, the place in the tray is not.
    const { parentElement: whole } = byId('findings').closest('section');
    const at = whole.scrollTop;
    byId('findings').replaceChildren(...sorted.map(tray.finding));
    if (at) whole.scrollTop = at;
  },

  finding(finding) {
    const { severity, word, place, text, hint } = finding;
    const row = made('li');
    row.dataset.severity = severity;
    const jump = made('button', 'finding');
    jump.type = 'button';
    const head = made('span', 'finding-head');
    head.append(made('span', 'finding-word', word), ' ', made('span', 'finding-place', place));
    jump.append(head, made('span', 'finding-text', text));
    if (hint) jump.append(made('span', 'finding-hint', hint));
    jump.addEventListener('click', () => paper.jumpTo(finding));
    row.append(jump);
    return row;
  },

  // The numbers against those of a saved sheet.
  showCompared(lines) {
    byId('saved-part').hidden = lines.length === 0;
    byId('saved-lines').replaceChildren(...lines.map((line) => made('li', '', line)));
  },

  hideFindings() {
    byId('saved-part').hidden = true;
    byId('findings-part').hidden = true;
  },
};
