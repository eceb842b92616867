// Explanations of quantities show by the sheet's style alone; Escape puts them away until the pointer
// moves on, or a key does.
'use strict';

const asks = {
  listen() {
    const sheet = byId('sheet');
    addEventListener('keydown', ({ key }) => {
      if (key !== 'Escape') return;
      for (const name of [sheet, ...sheet.querySelectorAll('.asks:is(:hover, :focus)')]) name.classList.add('put-away');
    });
    // A name that was left is as before; what lay below it shows once the pointer moves.
    const left = () => {
      for (const name of sheet.querySelectorAll('.put-away:not(:hover, :focus)')) name.classList.remove('put-away');
    };
    for (const moved of ['mouseover', 'mouseout', 'focusin', 'focusout']) sheet.addEventListener(moved, left);
    for (const moved of ['pointermove', 'focusin']) sheet.addEventListener(moved, () => sheet.classList.remove('put-away'));
  },
};
