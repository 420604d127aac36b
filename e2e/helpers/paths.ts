/** Where things are, in the repository and on the machine. */
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/** The repository. */
export const ROOT = here('../../');
/** The app as the bundler made it. */
export const DIST = here('../../app/dist/');
/** Where tests leave what they make and may find it again: other builds, the moving picture. */
export const MADE = here('../../target/e2e/');
/** Where screenshots go. */
export const PICTURES = here('../pictures/made/');
/** Chromium, unless `WAXEND_CHROMIUM` names another. */
export const CHROMIUM = process.env['WAXEND_CHROMIUM'] ?? '/usr/bin/chromium';
/** Firefox, unless `WAXEND_FIREFOX` names another. */
export const FIREFOX = process.env['WAXEND_FIREFOX'] ?? '/usr/bin/firefox-esr';

/** The first of these paths that exists; says what was looked for when none does. */
export function firstOf(what: string, paths: string[]): string {
  const found = paths.find((path) => existsSync(path));
  if (found === undefined) throw new Error(`no ${what}: looked for ${paths.join(', ')}`);
  return found;
}
