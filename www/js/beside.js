// The waveform and the spectrum of a point, beside those of the focal point: below its figure or the
// row of it, until it is closed or its point is gone. Never printed.
'use strict';

// Widest that one picture gets, in pixels of the page.
const WIDEST = 420;

const beside = {
  // The panel with its parts, and the point that it shows: { figure, place }.
  panel: null,
  shown: null,
  turn: 0,

  async open(drawing, place) {
    const { figure } = drawing.closest('figure').dataset;
    const wave = await beside.ask(figure, place);
    if (!wave) return;
    beside.close(false);
    beside.shown = { figure, place };
    beside.panel = beside.make();
    beside.rowOf(figure).after(beside.panel);
    // Filled once it stands, so that it is read out.
    beside.fill(wave);
    beside.panel.scrollIntoView({ block: 'nearest' });
  },

  // The sheet is a fresh one: the same point is drawn anew where it is still there.
  async refresh() {
    if (!beside.shown) return;
    const { figure, place } = beside.shown;
    const row = beside.rowOf(figure);
    if (!row) {
      beside.close(false);
      return;
    }
    const { panel } = beside;
    if (row.nextElementSibling !== panel) {
      const held = panel.contains(document.activeElement) ? document.activeElement : null;
      row.after(panel);
      held?.focus({ preventScroll: true });
    }
    const wave = await beside.ask(figure, place);
    if (wave) beside.fill(wave);
    else if (wave === null) beside.close(false);
  },

  drawingOf: (figure) => byId('sheet').querySelector(`[data-figure="${CSS.escape(figure)}"] .drawing`),

  // Below what the panel stands: the row of the figure, or the figure where each has a row.
  rowOf(figure) {
    const own = beside.drawingOf(figure)?.closest('figure');
    const row = own?.closest('.figures');
    return row && own.offsetWidth * 2 < row.offsetWidth ? row : own;
  },

  // What the point's waveform is; null where there is none, nothing where it is no longer wanted.
  async ask(figure, place) {
    const turn = ++beside.turn;
    const row = beside.rowOf(figure);
    const room = row.getBoundingClientRect().width;
    const half = room > 600 ? (room - 24) / 2 : room;
    let wave;
    try {
      // The engine takes whole pixels of it.
      wave = await pointing.engine.ask('point_wave', [figure, place, (half < WIDEST ? half : WIDEST) * devicePixelRatio]);
    } catch (error) {
      if (error instanceof Refusal) wave = { heading: '', text: error.message, pictures: [] };
    }
    return turn === beside.turn && row.isConnected ? wave : undefined;
  },

  make() {
    const panel = made('section', 'point-panel');
    panel.tabIndex = -1;
    const close = made('button', 'word');
    close.type = 'button';
    close.addEventListener('click', () => beside.close(true));
    const head = made('p', 'point-head');
    const said = made('span', 'point-peaks');
    said.setAttribute('role', 'status');
    head.append(said, close);
    panel.append(head, made('div', 'point-pictures'), made('p', 'point-note'));
    panel.addEventListener('keydown', (event) => {
      if (event.key === 'Escape') beside.close(true);
    });
    return panel;
  },

  fill({ heading, text, pictures }) {
    const { panel } = beside;
    const find = (part) => panel.querySelector(part);
    panel.setAttribute('aria-label', words.get('point_panel'));
    find('button').textContent = words.get('close');
    const said = [heading, text].filter(Boolean).join(': ');
    if (find('.point-peaks').textContent !== said) find('.point-peaks').textContent = said;
    find('.point-pictures').replaceChildren(...pictures.map((picture) => beside.canvas(picture, said)));
    find('.point-note').textContent = pictures.length > 0 ? words.get('point_scale') : '';
  },

  canvas(picture, label) {
    const canvas = made('canvas');
    canvas.width = picture.width;
    canvas.height = picture.height;
    canvas.style.width = `${picture.width / devicePixelRatio}px`;
    canvas.setAttribute('role', 'img');
    canvas.setAttribute('aria-label', label);
    canvas.getContext('2d').drawImage(picture, 0, 0);
    picture.close();
    return canvas;
  },

  close(back) {
    beside.turn++;
    const { panel, shown } = beside;
    beside.panel = null;
    beside.shown = null;
    panel?.remove();
    if (back && shown) beside.drawingOf(shown.figure)?.focus({ preventScroll: true });
  },
};
