// The demo's sheet carries what docs/certificate-checklist.md lists, item by item.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { oneBrowser, openPage, whole } from './chromium.mjs';
import { demo } from './inputs.mjs';

const browser = oneBrowser();
const DOC = readFileSync(new URL('../../docs/certificate-checklist.md', import.meta.url), 'utf8');

// Texts of the sheet's places, and the record from which they come.
const checks = {
  title: ({ front, record }) => front.includes(record.title) && front.includes('Field sheet'),
  laboratory: ({ front, record }) => front.includes(record.measured_by) && front.includes(record.site),
  customer: ({ front, record }) => front.includes(record.customer),
  number: ({ front, style }) => style.includes(front.match(/\b[0-9A-F]{4}-[0-9A-F]{4}\b/)[0]),
  pages: ({ style }) => /"Page " counter\(page\) " of " counter\(pages\)/.test(style),
  item: ({ front, record }) => front.includes(record.device.serial) && front.includes(record.device.description),
  date: ({ front, record }) => front.includes(record.date),
  issued: ({ front, record }) => front.includes(record.issued),
  method: ({ part }) => part('method').length > 500,
  results: ({ part }) => /± \d[\d.]*\s+MPa/.test(part('quantities')) && /± \d[\d.]*\s+mm/.test(part('quantities')),
  environment: ({ part, record }) => part('conditions').includes(`${record.water.temperature_c} °C`),
  uncertainty: ({ part }) => /k = \d[^;]* 95.%|coverage factor[^;]*95.%/.test(part('budgets')) && /coverage probability/.test(part('quantities')),
  traceability: ({ part, record }) => record.equipment.every(({ certificate }) => part('calibration').includes(certificate)),
  rule: ({ front, part }) => /conforms from a probability of 0\.95 on/.test(front) && part('conditions').includes('guarded both sides'),
  conformity: ({ front, part, record }) => (front.match(/conforms|undecided/g) ?? []).length >= record.stated.length && /…/.test(part('verdicts')),
  deviations: ({ part }) => /(Caution|Note|Unfit)/.test(part('fitness')),
  'item-only': ({ front }) => /holds for this head as it was measured/.test(front),
  whole: ({ front }) => /copy it whole or not at all/.test(front),
  unsaid: ({ front }) => /neither a clearance/.test(front) && /Values in tissue differ/.test(front),
  signature: ({ front }) => /Measured by, date/.test(front) && /Checked by, date/.test(front),
};

test('every item of the checklist stands on the sheet', async () => {
  const items = [...DOC.matchAll(/^\| ([a-z-]+) \| /gm)].map(([, id]) => id).filter((id) => id !== 'id');
  assert.deepEqual(items, Object.keys(checks), 'rows of the document');
  const { path, record, files } = demo();
  const page = await openPage(browser, { locale: 'en-GB' });
  await page.setInputFiles('#pick', [path, ...files]);
  await whole(page);
  const words = (text) => text.split(/\s+/).join(' ');
  // Parts out of sight are not laid out, and have no inner text.
  await page.evaluate(() => {
    for (const part of document.querySelectorAll('#sheet .part')) part.style.contentVisibility = 'visible';
  });
  const texts = await page.evaluate(() => ({
    front: document.querySelector('#sheet .front').innerText,
    style: document.getElementById('page-style').textContent,
    parts: Object.fromEntries([...document.querySelectorAll('#sheet .part')].map((part) => [part.id.replace('section-', ''), part.innerText])),
  }));
  const sheet = { record, front: words(texts.front), style: texts.style, part: (id) => words(texts.parts[id] ?? '') };
  const missing = items.filter((id) => !checks[id](sheet));
  assert.deepEqual(missing, []);
});
