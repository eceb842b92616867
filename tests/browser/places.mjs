// Where the tests find what they need. Each place can be named by a variable of the environment;
// else it is the one in the checkout.
import { accessSync, constants, mkdirSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const inCheckout = (path) => fileURLToPath(new URL(`../../${path}`, import.meta.url));

// The built page.
export const PAGE = process.env.FOCALSHEET_PAGE ?? inCheckout('target/page/focalsheet.html');
// A folder with a record and the files that it names.
export const DEMO = process.env.FOCALSHEET_DEMO ?? inCheckout('demo-data');
// Where the tests put what they make.
export const OUT = process.env.FOCALSHEET_OUT ?? inCheckout('target/browser');
mkdirSync(OUT, { recursive: true });

// The path of a program, by the search path; null when there is none.
export const program = (name) => {
  for (const folder of (process.env.PATH ?? '').split(delimiter)) {
    const path = join(folder, name);
    try {
      accessSync(path, constants.X_OK);
      return path;
    } catch {
      // Not in this folder.
    }
  }
  return null;
};
