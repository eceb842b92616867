// The blanks of the sheet, typed into where they stand: Enter or Tab hands a text in, Escape gives
// it up.
'use strict';

const blanks = {
  // The blank that has the focus, what stood in it, and the text that it began with.
  current: null,
  // Texts that were refused or asked about, by path; they stay in their blanks.
  open: new Map(),
  replacing: false,
  // The text that was handed in last, until the sheet follows it or refuses it.
  sending: Promise.resolve(),

  // Whether a text is being typed.
  get typing() {
    return blanks.current !== null && blanks.textOf(blanks.current.element) !== blanks.current.text;
  },

  textOf: (element) => element.textContent.trim(),

  all: () => [...byId('sheet').querySelectorAll('[data-path]')],

  at: (path) => blanks.all().find(({ dataset }) => dataset.path === path),

  // Blanks on the sheet with a text that the numbers do not know.
  untaken() {
    const now = blanks.typing ? blanks.current.element : null;
    return blanks.all().filter((element) => element === now || blanks.open.has(element.dataset.path));
  },

  // Says in the tray how many those are.
  tell() {
    const { length } = blanks.untaken();
    byId('not-taken').hidden = length === 0;
    if (byId('not-taken-count').textContent === String(length)) return;
    byId('not-taken-count').textContent = length;
    blanks.editor?.refresh();
  },

  // What the numbers were computed with stands before a blank that is typed into; it is what is printed.
  keep(element) {
    if (element.previousElementSibling?.matches('.taken')) return;
    const taken = made('span', 'taken');
    taken.append(...[...element.childNodes].map((node) => node.cloneNode(true)));
    element.before(taken);
  },

  drop(element) {
    const taken = element.previousElementSibling;
    if (taken?.matches('.taken')) taken.remove();
  },

  listen(editor) {
    blanks.editor = editor;
    const sheet = byId('sheet');
    const blankOf = ({ target }) => target.closest?.('[data-path]');
    sheet.addEventListener('focusin', (event) => {
      const element = blankOf(event);
      if (element && !blanks.replacing) blanks.begin(element);
    });
    sheet.addEventListener('focusout', (event) => {
      if (blankOf(event) && !blanks.replacing) blanks.leave();
    });
    sheet.addEventListener('input', (event) => blankOf(event) && blanks.tell());
    // The first click selects all, also where the blank has the focus already; the next one sets the caret.
    const atFirst = (event) => blanks.current && blankOf(event) === blanks.current.element && !blanks.current.clicked && !blanks.typing;
    sheet.addEventListener('mousedown', (event) => {
      // A press on what is selected would keep it until after the click.
      if (atFirst(event)) getSelection().removeAllRanges();
    });
    sheet.addEventListener('click', (event) => {
      if (!atFirst(event)) return;
      if (getSelection().isCollapsed) getSelection().selectAllChildren(blanks.current.element);
      blanks.current.clicked = true;
    });
    byId('not-taken-first').addEventListener('click', async () => {
      await blanks.answered();
      const [first] = blanks.untaken();
      if (!first) return;
      first.scrollIntoView({ block: 'center' });
      first.focus({ preventScroll: true });
    });
    sheet.addEventListener('keydown', (event) => {
      const element = blankOf(event);
      if (!element) return;
      if (event.key === 'Enter') {
        event.preventDefault();
        blanks.handIn();
      } else if (event.key === 'Escape') {
        blanks.giveUp();
      }
    });
  },

  // Makes the blanks of a fresh sheet ready.
  dress() {
    for (const element of blanks.all()) {
      if (element.hasAttribute('role')) continue;
      element.setAttribute('role', 'textbox');
      element.tabIndex = 0;
      element.spellcheck = false;
      const label = element.closest('dd')?.previousElementSibling ?? element.closest('tr')?.querySelector('.name');
      element.setAttribute('aria-label', label?.textContent.trim() ?? words.get('sheet_title'));
      element.contentEditable = 'plaintext-only';
      if (element.contentEditable !== 'plaintext-only') element.contentEditable = 'true';
    }
    stated.dress(blanks.editor);
    for (const [path, { text, line }] of blanks.open) {
      const element = blanks.at(path);
      if (!element) continue;
      blanks.keep(element);
      element.textContent = text;
      blanks.note(element, text, line);
    }
    blanks.tell();
  },

  begin(element) {
    if (blanks.current?.element === element) return;
    // Copies: typing changes the nodes themselves.
    const before = [...element.childNodes].map((node) => node.cloneNode(true));
    blanks.keep(element);
    const beside = element.nextElementSibling;
    const typed = beside?.matches('.as-typed') ? beside : null;
    if (blanks.open.has(element.dataset.path)) {
      // What was typed is still there.
    } else if (element.classList.contains('blank')) {
      element.textContent = '';
    } else if (typed) {
      element.textContent = typed.textContent;
    }
    element.classList.add('typing');
    blanks.current = { element, before, text: blanks.textOf(element) };
    getSelection().selectAllChildren(element);
  },

  // Puts back what stood in the blank.
  restore() {
    const { element, before } = blanks.current;
    element.classList.remove('typing');
    if (!blanks.open.has(element.dataset.path)) {
      element.replaceChildren(...before);
      blanks.drop(element);
    }
    blanks.current = null;
    blanks.tell();
  },

  giveUp() {
    const { element } = blanks.current ?? {};
    if (!element) return;
    const { path } = element.dataset;
    if (blanks.open.delete(path)) {
      // The sheet as it was made last holds what stood there.
      blanks.current = null;
      element.blur();
      paper.showAgain();
    } else {
      blanks.restore();
      element.blur();
    }
  },

  // Takes the last refused text back: what stood there comes back. False where there is none.
  takeBack() {
    const path = blanks.untaken().length > 0 && [...blanks.open.keys()].findLast(blanks.at);
    if (!path) return false;
    blanks.open.delete(path);
    paper.showAgain();
    return true;
  },

  // A row of a list was taken out: texts in the rows below it go up with them.
  moveUp(path) {
    const [, list, row] = path.match(/^(.*)\[(\d+)\]$/) ?? [];
    if (!list) return;
    const moved = [...blanks.open].flatMap(([key, value]) => {
      const [, other, at] = key.match(/^(.*)\[(\d+)\]$/) ?? [];
      if (other !== list || Number(at) < Number(row)) return [[key, value]];
      return at === row ? [] : [[`${list}[${at - 1}]`, value]];
    });
    blanks.open = new Map(moved);
  },

  leave() {
    if (!blanks.current) return;
    if (!blanks.typing) {
      blanks.restore();
      return;
    }
    const { element } = blanks.current;
    element.classList.remove('typing');
    blanks.current = null;
    blanks.send(element.dataset.path, blanks.textOf(element));
  },

  async handIn() {
    if (!blanks.current) return;
    if (!blanks.typing) {
      if (!blanks.open.has(blanks.current.element.dataset.path)) return;
    }
    const { element } = blanks.current;
    const text = blanks.textOf(element);
    blanks.current.text = text;
    await blanks.send(element.dataset.path, text);
  },

  // Hands a text in; a refused or ambiguous one stays with its note.
  send(path, text, reading) {
    blanks.sending = blanks.follow(path, text, reading);
    return blanks.sending;
  },

  async follow(path, text, reading) {
    const line = await blanks.editor.fill(path, text, reading);
    if (line.ok) {
      blanks.open.delete(path);
      // Nothing changed: the sheet as it was says it in its own way.
      if (line.tier === '') paper.showAgain();
      return;
    }
    // The latest comes last.
    blanks.open.delete(path);
    blanks.open.set(path, { text, line });
    const element = blanks.at(path);
    if (element) blanks.note(element, text, line);
    blanks.tell();
  },

  // The engine has answered what was handed in, and a refused text has its note.
  async answered() {
    await blanks.editor.told?.catch(() => {});
    await new Promise((done) => setTimeout(done));
  },

  // What is to be said of a text: why it is refused, or which of two readings is meant.
  note(element, text, line) {
    const { path } = element.dataset;
    document.getElementById(`note-${path}`)?.remove();
    const note = made('span', 'blank-note');
    note.id = `note-${path}`;
    note.setAttribute('role', 'alert');
    if (line.readings.length > 0) {
      note.append(made('span', '', words.get('ask_reading')));
      line.readings.forEach((reading, index) => {
        const button = made('button', 'word', reading);
        button.type = 'button';
        button.addEventListener('click', () => blanks.send(path, text, index === 0 ? 'decimal' : 'thousands'));
        note.append(' ', button);
      });
    } else {
      note.append(made('span', '', line.problem?.text ?? ''));
      if (line.problem?.hint) note.append(' ', made('span', 'problem-hint', line.problem.hint));
    }
    element.setAttribute('aria-invalid', 'true');
    element.setAttribute('aria-describedby', note.id);
    element.classList.add('refused');
    const beside = element.nextElementSibling;
    (beside?.matches('.as-typed') ? beside : element).after(note);
  },

  // Puts another sheet in place while a blank may have the focus: it has it again afterwards, with
  // what was typed into it meanwhile.
  around(replace) {
    const { current, typing } = blanks;
    const path = current?.element.dataset.path;
    const text = current && blanks.textOf(current.element);
    const [x, y] = [scrollX, scrollY];
    const adding = Boolean(document.activeElement?.closest('.add-stated, .row-remove'));
    blanks.replacing = true;
    blanks.current = null;
    replace();
    blanks.dress();
    blanks.replacing = false;
    if (adding && document.activeElement === document.body) {
      byId('sheet').querySelector('#add-stated, .add-form input')?.focus({ preventScroll: true });
    }
    const element = path && blanks.at(path);
    if (element) {
      element.focus({ preventScroll: true });
      if (typing) {
        element.textContent = text;
        getSelection().selectAllChildren(element);
        getSelection().collapseToEnd();
        blanks.tell();
      }
    }
    // Asking for a place lays the whole sheet out at once.
    if (x || y || element || adding) scrollTo(x, y);
  },
};
