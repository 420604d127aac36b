/** Paths of files and folders. */
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/** The folder of the repository. */
export const ROOT = here('../../');
/** The built app. */
export const DIST = here('../../app/dist/');
/** The folder for what tests make and use again: other builds, the camera's films. */
export const MADE = here('../../target/e2e/');
/** The folder for screenshots. */
export const PICTURES = here('../pictures/made/');
/** The path of Chromium; `WAXEND_CHROMIUM` sets another one. */
export const CHROMIUM = process.env['WAXEND_CHROMIUM'] ?? '/usr/bin/chromium';
/** The path of Firefox; `WAXEND_FIREFOX` sets another one. */
export const FIREFOX = process.env['WAXEND_FIREFOX'] ?? '/usr/bin/firefox-esr';

/** The first of these paths that exists. Throws an error that names `what` if none does. */
export function firstOf(what: string, paths: string[]): string {
  const found = paths.find((path) => existsSync(path));
  if (found === undefined) throw new Error(`no ${what}: looked for ${paths.join(', ')}`);
  return found;
}
