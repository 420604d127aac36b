/** Finds elements by role, name and label inside a page, as Playwright does from outside. For browsers that it does not drive. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

import type { Name, Role } from './phone.ts';

const LIBRARY = readFileSync(createRequire(import.meta.url).resolve('@testing-library/dom/dist/@testing-library/dom.umd.min.js'), 'utf8');

/** What a page is given once, before it is asked for an element. */
export const FINDER = `(function () { ${LIBRARY} }).call(window);`;

/** An expression of the page: whether it has been given {@link FINDER}. */
export const HAS_FINDER = 'Boolean(window.TestingLibraryDom)';

/** An expression of the page: the one element with this role and name, or null. */
export function byRole(name: Name, role: Role): string {
  // Runs of white space count as one space in a name too, as Playwright has it: `15 min` is kept on one line.
  const said = name instanceof RegExp ? String(name) : `(words) => words.replace(/\\s+/g, ' ').trim() === ${JSON.stringify(name)}`;
  return `TestingLibraryDom.queryByRole(document.body, ${JSON.stringify(role)}, { name: ${said} })`;
}

/** An expression of the page: the one field with this label, or null. */
export function byLabel(label: Name): string {
  return `TestingLibraryDom.queryByLabelText(document.body, ${label instanceof RegExp ? String(label) : JSON.stringify(label)})`;
}
