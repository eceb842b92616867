// The waveform and the spectrum of a point, beside those of the focal point: below the row of its
// figure, until it is closed. Never printed.
'use strict';

// Widest that one picture gets, in pixels of the page.
const WIDEST = 420;

const beside = {
  panel: null,
  turn: 0,

  async open(drawing, place) {
    const turn = ++beside.turn;
    const { figure } = drawing.closest('figure').dataset;
    const row = drawing.closest('.figures') ?? drawing.closest('figure');
    const room = row.getBoundingClientRect().width;
    const half = room > 600 ? (room - 24) / 2 : room;
    // The engine takes whole pixels of it.
    const argument = [figure, place, (half < WIDEST ? half : WIDEST) * devicePixelRatio];
    let wave = null;
    try {
      wave = await pointing.engine.ask('point_wave', argument);
    } catch (error) {
      if (!(error instanceof Refusal)) return;
      wave = { heading: '', text: error.message, pictures: [] };
    }
    if (!wave || turn !== beside.turn || !row.isConnected) return;
    beside.close(false);
    beside.from = drawing;
    beside.show(row, wave);
  },

  show(row, { heading, text, pictures }) {
    const panel = made('section', 'point-panel');
    panel.setAttribute('aria-label', words.get('point_panel'));
    panel.tabIndex = -1;
    const close = made('button', 'word', words.get('close'));
    close.type = 'button';
    close.addEventListener('click', () => beside.close(true));
    const head = made('p', 'point-head');
    const said = made('span', 'point-peaks');
    said.setAttribute('role', 'status');
    head.append(said, close);
    const drawn = made('div', 'point-pictures');
    for (const picture of pictures) {
      const canvas = made('canvas');
      canvas.width = picture.width;
      canvas.height = picture.height;
      canvas.style.width = `${picture.width / devicePixelRatio}px`;
      canvas.setAttribute('role', 'img');
      canvas.setAttribute('aria-label', `${heading}: ${text}`);
      canvas.getContext('2d').drawImage(picture, 0, 0);
      drawn.append(canvas);
      picture.close();
    }
    panel.append(head, drawn);
    if (pictures.length > 0) panel.append(made('p', 'point-note', words.get('point_scale')));
    panel.addEventListener('keydown', (event) => {
      if (event.key === 'Escape') beside.close(true);
    });
    row.after(panel);
    beside.panel = panel;
    // Filled once it stands, so that it is read out.
    said.textContent = [heading, text].filter(Boolean).join(': ');
    panel.scrollIntoView({ block: 'nearest' });
  },

  close(back) {
    beside.panel?.remove();
    beside.panel = null;
    if (back && beside.from?.isConnected) beside.from.focus({ preventScroll: true });
  },
};
