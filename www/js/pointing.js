// Pointing at figures: with the mouse or the arrow keys from point to point. The engine says what
// stands there; here is only where the mark goes.
'use strict';

const STEPS = {
  ArrowLeft: [-1, 0, 0],
  ArrowRight: [1, 0, 0],
  ArrowUp: [0, 1, 0],
  ArrowDown: [0, -1, 0],
  PageUp: [0, 0, -1],
  PageDown: [0, 0, 1],
};
// How many points a step goes with the shift key.
const FAR = 10;

const pointing = {
  // The figure and the point that are shown: { figure, point }.
  now: null,
  turn: 0,
  // The question that is open, and the steps that wait for each other.
  asking: null,
  steps: Promise.resolve(),

  listen(engine) {
    pointing.engine = engine;
    const sheet = byId('sheet');
    const drawingOf = ({ target }) => target.closest?.('.drawing');
    sheet.addEventListener('pointermove', (event) => {
      const drawing = drawingOf(event);
      if (drawing) pointing.at(drawing, event);
      else pointing.away();
    });
    sheet.addEventListener('pointerleave', () => pointing.away());
    sheet.addEventListener('click', (event) => {
      const drawing = drawingOf(event);
      if (drawing) pointing.inTurn(drawing, () => pointing.at(drawing, event), pointing.open);
    });
    sheet.addEventListener('focusin', (event) => {
      const drawing = drawingOf(event);
      if (drawing?.matches(':focus-visible') && pointing.now?.drawing !== drawing) pointing.ask(drawing, 'point_from', [[], []]);
    });
    for (const moved of ['scroll', 'resize']) addEventListener(moved, () => pointing.clearWay(), { passive: true });
    sheet.addEventListener('focusout', (event) => drawingOf(event) && pointing.leave());
    sheet.addEventListener('keydown', (event) => {
      const drawing = drawingOf(event);
      if (!drawing || event.ctrlKey || event.metaKey || event.altKey) return;
      if (pointing.key(drawing, event)) event.preventDefault();
    });
  },

  key(drawing, { key, shiftKey }) {
    if (key === 'Escape') {
      pointing.leave();
      drawing.blur();
    } else if (key === 'Enter') {
      pointing.inTurn(drawing, null, pointing.open);
    } else if (STEPS[key]) {
      const step = STEPS[key].map((by, way) => (shiftKey && way < 2 ? FAR * by : by));
      pointing.inTurn(drawing, (point) => pointing.ask(drawing, 'point_from', point ? [point.place, step] : [[], []]));
    } else {
      return false;
    }
    return true;
  },

  // Asks for a point from the one that is shown, after all earlier steps, and goes on with it.
  inTurn(drawing, ask, then) {
    const shown = () => (pointing.now?.drawing === drawing ? pointing.now.point : null);
    pointing.steps = pointing.steps.then(async () => {
      const point = ask ? await ask(shown()) : shown();
      if (point) then?.(drawing, point);
    });
  },

  // Makes the figures of a fresh sheet ready.
  dress() {
    pointing.leave();
    for (const figure of byId('sheet').querySelectorAll('figure[data-figure]')) {
      const drawing = figure.querySelector('.drawing');
      // What did not change is ready from before.
      if (!drawing || figure.querySelector('.figure-words')) continue;
      drawing.tabIndex = 0;
      drawing.setAttribute('role', 'application');
      drawing.setAttribute('aria-label', `${drawing.getAttribute('aria-label')}. ${words.get('point_keys')}`);
      const line = made('p', 'figure-words');
      const said = made('span', 'point-said');
      said.setAttribute('role', 'status');
      said.setAttribute('aria-live', 'polite');
      const hint = made('span', 'point-hint');
      hint.setAttribute('aria-hidden', 'true');
      const keys = made('span', 'point-keys', words.get('point_keys'));
      keys.setAttribute('aria-hidden', 'true');
      line.append(said, hint, singly.words(figure), keys);
      figure.append(line);
    }
  },

  at(drawing, { clientX, clientY }) {
    const box = drawing.querySelector('svg').getBoundingClientRect();
    return pointing.ask(drawing, 'point_at', [(clientX - box.x) / box.width, (clientY - box.y) / box.height]);
  },

  // One question at a time; of those that come meanwhile the last is asked.
  async ask(drawing, call, rest) {
    const turn = ++pointing.turn;
    while (pointing.asking) {
      await pointing.asking;
      if (turn !== pointing.turn) return null;
    }
    const id = drawing.closest('figure').dataset.figure;
    pointing.asking = pointing.engine.ask(call, [id, ...rest]).catch(() => null);
    const point = await pointing.asking;
    pointing.asking = null;
    if (turn === pointing.turn && drawing.isConnected) pointing.show(drawing, point);
    return point;
  },

  show(drawing, point) {
    if (pointing.now?.drawing !== drawing) pointing.clear();
    if (!point) {
      pointing.clear();
      return;
    }
    pointing.now = { drawing, point };
    let mark = drawing.querySelector('.point-mark');
    if (!mark) drawing.append(mark = made('span', 'point-mark'));
    const [u, v] = point.at;
    const svg = drawing.querySelector('svg').getBoundingClientRect();
    const box = drawing.getBoundingClientRect();
    mark.style.left = `${svg.x - box.x + u * svg.width}px`;
    mark.style.top = `${svg.y - box.y + v * svg.height}px`;
    drawing.classList.toggle('opens', point.wave);
    pointing.clearWay();
    const figure = drawing.closest('figure');
    const way = drawing.matches(':focus-visible') ? 'point_enter' : 'point_open';
    figure.querySelector('.point-hint').textContent = point.wave ? words.get(way) : '';
    const said = figure.querySelector('.point-said');
    if (said.firstChild?.textContent !== point.text) said.textContent = point.text;
  },

  // What the keys do stands at the window's foot, or at its head where it would cover the figure there, and
  // in a figure higher than the window away from the point.
  clearWay() {
    const { drawing } = pointing.now ?? {};
    const keys = drawing?.closest('figure').querySelector('.point-keys');
    const { height } = keys?.getBoundingClientRect() ?? {};
    if (!height) return;
    const { top, bottom } = drawing.closest('figure').getBoundingClientRect();
    const low = (drawing.querySelector('.point-mark')?.getBoundingClientRect().y ?? 0) > innerHeight / 2;
    keys.classList.toggle('above', bottom > innerHeight - height && (top > height || low));
  },

  // The pointer went elsewhere; a point that was reached by keyboard stays.
  away() {
    if (pointing.now && !pointing.now.drawing.matches(':focus-visible')) pointing.leave();
  },

  leave() {
    pointing.turn++;
    pointing.clear();
  },

  clear() {
    if (!pointing.now) return;
    const { drawing } = pointing.now;
    pointing.now = null;
    drawing.querySelector('.point-mark')?.remove();
    drawing.classList.remove('opens');
    for (const line of drawing.closest('figure')?.querySelectorAll('.point-said, .point-hint') ?? []) line.textContent = '';
  },

  open(drawing, { wave, place }) {
    if (wave) beside.open(drawing, place);
  },
};
