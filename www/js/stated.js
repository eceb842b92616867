// Stated values: one more at the end of their table, or one taken out. On screen alone.
'use strict';

const stated = {
  // Whether the row for a new one is open, with what stands in it.
  draft: null,

  dress(editor) {
    const sheet = byId('sheet');
    for (const element of sheet.querySelectorAll('.verdicts [data-path]')) {
      if (element.closest('tr').querySelector('.row-remove')) continue;
      const remove = made('button', 'word row-remove', words.get('remove'));
      remove.type = 'button';
      remove.setAttribute('aria-label', `${words.get('remove')} ${element.getAttribute('aria-label')}`);
      remove.addEventListener('click', () => editor.remove(element.dataset.path));
      element.closest('tr').querySelector('.name').append(' ', remove);
    }
    const place = sheet.querySelector('.judged') ?? sheet.querySelector('.front .sentence')?.closest('.beside, .alone');
    const there = sheet.querySelector('.add-stated');
    if (place && there?.previousElementSibling === place && Boolean(there.querySelector('form')) === Boolean(stated.draft)) return;
    there?.remove();
    if (!place) return;
    const row = made('div', 'add-stated');
    if (stated.draft) row.append(stated.form(editor));
    else row.append(stated.word(editor));
    place.after(row);
  },

  word(editor) {
    const add = made('button', 'word', words.get('add_stated'));
    add.type = 'button';
    add.id = 'add-stated';
    add.addEventListener('click', () => {
      stated.draft = { quantity: '', text: '' };
      const form = stated.form(editor);
      add.replaceWith(form);
      form.querySelector('select').focus();
    });
    return add;
  },

  form(editor) {
    const { draft } = stated;
    const form = made('form', 'add-form');
    const select = made('select');
    select.setAttribute('aria-label', words.get('stated_quantity'));
    select.append(...words.get('quantities').map(({ id, name }) => {
      const option = made('option', '', name);
      option.value = id;
      return option;
    }));
    if (draft.quantity) select.value = draft.quantity;
    const input = made('input');
    input.setAttribute('aria-label', words.get('stated_text'));
    input.placeholder = words.get('stated_example');
    input.value = draft.text;
    const add = made('button', 'word', words.get('add'));
    const close = made('button', 'word', words.get('give_up'));
    close.type = 'button';
    const note = made('span', 'blank-note');
    note.setAttribute('role', 'alert');
    form.append(select, ' ', input, ' ', add, ' ', close, note, made('span', 'add-about', words.get('stated_paste')));
    const keep = () => Object.assign(draft, { quantity: select.value, text: input.value });
    select.addEventListener('change', keep);
    input.addEventListener('input', keep);
    const shut = () => {
      stated.draft = null;
      form.replaceWith(stated.word(editor));
      byId('add-stated').focus();
    };
    close.addEventListener('click', shut);
    form.addEventListener('keydown', (event) => event.key === 'Escape' && shut());
    const send = async (reading) => {
      keep();
      // So that the fresh sheet shows the word again.
      stated.draft = null;
      const line = await editor.addStated(draft.quantity, draft.text, reading);
      if (line.ok) return;
      stated.draft = draft;
      note.replaceChildren();
      if (line.readings.length > 0) {
        note.append(words.get('ask_reading'));
        line.readings.forEach((text, index) => {
          const button = made('button', 'word', text);
          button.type = 'button';
          button.addEventListener('click', () => send(index === 0 ? 'decimal' : 'thousands'));
          note.append(' ', button);
        });
      } else {
        note.append(`${line.problem?.text ?? ''} ${line.problem?.hint ?? ''}`);
      }
    };
    // Cells of a spreadsheet with their headings fill several rows at once.
    input.addEventListener('paste', async (event) => {
      const table = event.clipboardData.getData('text/plain');
      if (!/\n./.test(table.trim())) return;
      event.preventDefault();
      keep();
      stated.draft = null;
      const line = await editor.pasteStated(table);
      if (line.ok) return;
      stated.draft = draft;
      const all = line.problems ?? [line.problem];
      note.replaceChildren(...all.map(({ text, hint }) => made('span', 'problem-row', `${text} ${hint}`)));
    });
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      send();
    });
    return form;
  },
};
