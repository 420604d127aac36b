/**
 * Finds elements by role, name and label from inside a page, as Playwright does from outside, for browsers without
 * Playwright.
 */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

import type { Name, Role } from './phone.ts';

const LIBRARY = readFileSync(createRequire(import.meta.url).resolve('@testing-library/dom/dist/@testing-library/dom.umd.min.js'), 'utf8');

/** A script that a page has to run once before elements can be found in it. */
export const FINDER = `(function () { ${LIBRARY} }).call(window);`;

/** A JavaScript expression: whether the page has run {@link FINDER}. */
export const HAS_FINDER = 'Boolean(window.TestingLibraryDom)';

/** A JavaScript expression: the one element with this role and name, or null. */
export function byRole(name: Name, role: Role): string {
  // Runs of white space in a name count as one space, as in Playwright: `15 min` has a space that does not break.
  const said = name instanceof RegExp ? String(name) : `(words) => words.replace(/\\s+/g, ' ').trim() === ${JSON.stringify(name)}`;
  return `TestingLibraryDom.queryByRole(document.body, ${JSON.stringify(role)}, { name: ${said} })`;
}

/** A JavaScript expression: the one field with this label, or null. */
export function byLabel(label: Name): string {
  return `TestingLibraryDom.queryByLabelText(document.body, ${label instanceof RegExp ? String(label) : JSON.stringify(label)})`;
}
