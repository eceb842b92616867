// Files of others: the reading that is proposed, others to choose from, what has to be asked, and a
// quick look, so that one sees whether it is right. On the paper, in the sheet's place.
'use strict';

// A preview follows what is typed after this long, in milliseconds.
const PICK_PAUSE = 350;
const PICK_ROLES = ['plane', 'line', 'axial', 'point'];
const PICK_RECORD = ['sensor.response', 'sensor.response.uncertainty', 'excitation.frequency_hz', 'excitation.cycles', 'excitation.repetition_hz', 'water.temperature_c'];

const pick = {
  // What was answered so far, by file, kept over another language or another look.
  kept: {},
  record: {},

  hide() {
    clearTimeout(pick.timer);
    byId('pick-form').hidden = true;
  },

  forget() {
    pick.kept = {};
    pick.record = {};
    pick.hide();
  },

  // What is open asks for an answer; where a file is read otherwise, there is a sheet to go back to.
  get open() {
    return !byId('pick-form').hidden;
  },

  // `picks` from the engine; `take` is given the draft. With `leave` a file that was read is read otherwise:
  // what only a person knows stands on the sheet by then.
  show(picks, engine, take, leave = null) {
    Object.assign(pick, { picks, engine, take, leave });
    const form = byId('pick-form');
    const parts = picks.map(pick.part);
    const asked = made('fieldset');
    asked.append(made('legend', '', words.get('pick_measured')), made('p', 'pick-about', words.get('pick_may')));
    asked.append(...PICK_RECORD.map((key) => pick.field(key, key, pick.record[key] ?? '', (text) => {
      pick.record[key] = text;
    }, null)));
    const back = made('button', 'word pick-leave', words.get('pick_leave'));
    back.type = 'button';
    back.addEventListener('click', () => leave());
    const go = made('button', 'word pick-take', words.get('pick_take'));
    go.type = 'submit';
    const said = made('p', 'blank-note');
    said.setAttribute('role', 'alert');
    said.id = 'pick-said';
    form.replaceChildren(made('h2', '', words.get('pick_heading')), made('p', '', words.get(leave ? 'pick_intro_again' : 'pick_intro')), ...parts, ...(leave ? [go, ' ', back] : [asked, go]), said);
    form.onsubmit = (event) => {
      event.preventDefault();
      pick.send();
    };
    form.hidden = false;
    byId('outline').hidden = true;
    form.focus();
  },

  answersOf: ({ file, scan, choice }) => {
    pick.kept[file] ??= { choice, typed: {} };
    return Object.assign(pick.kept[file], { scan });
  },

  part(one) {
    const part = made('section', 'pick-file');
    const draw = () => {
      const own = pick.answersOf(one);
      const choice = one.choices[own.choice] ?? one.choices[0];
      const why = made('ul', 'pick-why');
      why.append(...one.notes.map((text) => made('li', '', text)), ...choice.reasons.map(({ text, assumed }) =>
        made('li', assumed ? 'pick-assumed' : '', assumed ? `${words.get('pick_assumed')} ${text}` : text)));
      const readings = made('fieldset');
      readings.append(made('legend', '', words.get('pick_reading')), ...one.choices.map(({ title, exchanged }, index) => {
        const label = made('label', 'pick-choice');
        const radio = made('input');
        Object.assign(radio, { type: 'radio', name: `pick-${one.scan}`, checked: index === own.choice });
        radio.addEventListener('change', () => {
          own.choice = index;
          own.role = undefined;
          draw();
          part.querySelectorAll('input[type=radio]')[index].focus();
        });
        label.append(radio, ` ${title}${exchanged ? `, ${words.get('pick_exchanged')}` : ''}`);
        return label;
      }));
      const role = made('select');
      role.append(...PICK_ROLES.map((word) => {
        const option = made('option', '', words.get(`pick_role_${word}`));
        option.value = word;
        return option;
      }));
      role.value = own.role ?? choice.role;
      role.addEventListener('change', () => {
        own.role = role.value;
        pick.look(one, part);
      });
      const roleRow = made('label', 'pick-row');
      roleRow.append(made('span', 'pick-label', words.get('pick_role')), role);
      const fields = choice.fields.map(({ key, text }) => pick.field(key, `${one.scan}-${key}`, own.typed[key] ?? text, (typed) => {
        own.typed[key] = typed;
        clearTimeout(pick.timer);
        pick.timer = setTimeout(() => pick.look(one, part), PICK_PAUSE);
      }, one.scan));
      const see = made('figure', 'pick-preview');
      const details = made('details');
      details.open = true;
      details.append(made('summary', '', words.get('pick_why')), why);
      part.replaceChildren(made('h3', '', one.file), readings, details, roleRow, ...fields, see);
      pick.look(one, part);
    };
    draw();
    return part;
  },

  // A question with its explanation; what is wrong with it stands below.
  field(key, id, text, onText, scan) {
    const row = made('label', 'pick-row');
    const note = made('span', 'blank-note');
    const input = made('input');
    input.dataset.key = key;
    if (scan !== null) input.dataset.scan = scan;
    const about = made('span', 'pick-about', words.get(`pick_about_${/^[xyz]$/.test(key) ? 'unit' : key.endsWith('-step') ? 'step' : key}`));
    about.id = `pick-about-${id}`;
    input.setAttribute('aria-describedby', about.id);
    if (key === 'serpentine') {
      input.type = 'checkbox';
      input.checked = text !== '';
      input.addEventListener('change', () => onText(input.checked ? 'yes' : ''));
    } else {
      input.value = text;
      input.autocomplete = 'off';
      // What has to be answered says so as long as it is empty.
      if (scan !== null) Object.assign(input, { required: true, placeholder: words.get('pick_unanswered') });
      input.addEventListener('input', () => {
        // What was wrong was said of another text.
        note.textContent = '';
        input.setAttribute('aria-invalid', 'false');
        onText(input.value);
      });
    }
    note.id = `pick-note-${id}`;
    row.append(made('span', 'pick-label', words.get(`pick_${key}`)), input, about, note);
    return row;
  },

  async look(one, part) {
    const see = part.querySelector('.pick-preview');
    const { scan, choice, role, typed } = pick.answersOf(one);
    const turn = (part.turn = (part.turn ?? 0) + 1);
    const seen = await pick.engine.ask('preview', JSON.stringify({ scans: [{ scan, choice, role, typed }] })).catch(() => null);
    if (!seen || part.turn !== turn) return;
    const head = made('figcaption', '', words.get('pick_preview'));
    if (seen.wrong.length > 0) {
      const others = seen.wrong.filter(({ key }) => key === '').map(({ text }) => made('p', 'blank-note', text));
      see.replaceChildren(head, made('p', 'pick-about', words.get('pick_open')), ...others);
      // A text that was typed is told at once; what is still open is told when it is handed in.
      pick.notes(seen.wrong.filter(({ key }) => typed[key]), part);
      return;
    }
    pick.notes([], part);
    see.replaceChildren(head, pick.map(seen), pick.wave(seen), made('p', '', seen.text), made('p', 'pick-about', words.get('pick_preview_note')));
  },

  notes(wrong, root) {
    for (const input of root.querySelectorAll('input[data-key]')) {
      const own = wrong.find(({ key, scan }) => key === input.dataset.key && String(scan ?? '') === (input.dataset.scan ?? ''));
      const note = input.closest('.pick-row').querySelector('.blank-note');
      note.textContent = own ? `${own.text} ${own.hint}` : '';
      input.setAttribute('aria-invalid', String(Boolean(own)));
      if (own) input.setAttribute('aria-errormessage', note.id);
    }
  },

  // The largest swings, y upward; dark is loud.
  map({ columns, rows, swing, text }) {
    const canvas = made('canvas', 'pick-map');
    Object.assign(canvas, { width: columns, height: rows });
    canvas.setAttribute('role', 'img');
    canvas.setAttribute('aria-label', text);
    const pen = canvas.getContext('2d');
    const image = pen.createImageData(columns, rows);
    const top = swing.reduce((most, v) => (v > most ? v : most), 0) || 1;
    swing.forEach((v, i) => {
      const at = 4 * ((rows - 1 - Math.floor(i / columns)) * columns + (i % columns));
      const share = v / top;
      image.data.set(v >= 0 ? [255 - 244 * share, 255 - 170 * share, 255 - 156 * share, 255] : [0, 0, 0, 0], at);
    });
    pen.putImageData(image, 0, 0);
    if (rows === 1) canvas.classList.add('pick-line');
    return canvas;
  },

  wave({ wave }) {
    const canvas = made('canvas', 'pick-wave');
    Object.assign(canvas, { width: 640, height: 160 });
    canvas.setAttribute('aria-hidden', 'true');
    const pen = canvas.getContext('2d');
    const top = wave.reduce((most, v) => Math.max(most, Math.abs(v)), 0) || 1;
    pen.strokeStyle = '#0b5563';
    pen.beginPath();
    wave.forEach((v, i) => pen.lineTo((640 * i) / wave.length, 80 - (76 * v) / top));
    pen.stroke();
    return canvas;
  },

  async send() {
    const scans = pick.picks.map((one) => {
      const { scan, choice, role, typed } = pick.answersOf(one);
      return { scan, choice, role, typed };
    });
    const { draft, wrong } = await pick.engine.ask('picked', pick.leave ? [JSON.stringify({ scans }), now()] : [JSON.stringify({ scans, record: pick.record }), '']);
    const form = byId('pick-form');
    pick.notes(wrong, form);
    if (wrong.length > 0) {
      byId('pick-said').textContent = [...new Set(wrong.map(({ text }) => text))].join(' ');
      form.querySelector('[aria-invalid="true"]')?.focus();
      return;
    }
    pick.hide();
    pick.take(draft);
  },
};
