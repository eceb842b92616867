// Each figure saved singly, as the sheet has it: SVG, or PNG in the size of its print.
'use strict';

const DOTS_PER_INCH = 300;
const MM_PER_INCH = 25.4;
// The chunk of a PNG that says 11811 pixels a metre, with its checksum, and where it belongs: after the
// header, which is as long in every PNG.
const DENSITY = [0, 0, 0, 9, 112, 72, 89, 115, 0, 0, 46, 35, 0, 0, 46, 35, 1, 120, 165, 63, 118];
const AFTER_HEADER = 33;

const singly = {
  words(figure) {
    const word = (key, save) => {
      const button = made('button', 'word', words.get(key));
      button.type = 'button';
      button.addEventListener('click', () => save(figure.dataset.figure));
      return button;
    };
    const png = word('figure_png', singly.png);
    png.setAttribute('aria-label', words.get('figure_svg').replace('SVG', 'PNG'));
    const both = made('span', 'figure-save');
    both.append(word('figure_svg', singly.svg), ' · ', png);
    return both;
  },

  find: (id) => pointing.engine.ask('figure_svg', id).catch(() => null),

  async svg(id) {
    const svg = await singly.find(id);
    if (svg) save.file(`figure-${id}.svg`, 'image/svg+xml', svg);
  },

  async png(id) {
    const svg = await singly.find(id);
    if (!svg) return;
    const address = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
    const image = new Image();
    image.src = address;
    await image.decode();
    // A canvas takes the whole part of a number: half a pixel more rounds it.
    const size = (side) => Number(svg.match(new RegExp(`${side}="([\\d.]+)mm"`))[1]) / MM_PER_INCH * DOTS_PER_INCH + 0.5;
    const canvas = made('canvas');
    canvas.width = size('width');
    canvas.height = size('height');
    const pen = canvas.getContext('2d');
    pen.fillStyle = '#fff';
    pen.fillRect(0, 0, canvas.width, canvas.height);
    pen.drawImage(image, 0, 0, canvas.width, canvas.height);
    URL.revokeObjectURL(address);
    const blob = await new Promise((resolve) => canvas.toBlob(resolve, 'image/png'));
    save.blob(`figure-${id}.png`, new Blob([blob.slice(0, AFTER_HEADER), new Uint8Array(DENSITY), blob.slice(AFTER_HEADER)], { type: 'image/png' }));
  },
};
