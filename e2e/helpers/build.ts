/** Other builds of the app, for what happens when a new one comes out. */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

import { DIST, MADE, ROOT, firstOf } from './paths.ts';

/**
 * A build of the same code under another label: every file name and the worker's version differ. Returns its folder,
 * which tests that run side by side must not share: let the label name the test.
 */
export function buildLabelled(label: string): string {
  const out = join(MADE, `dist-${label}`);
  // `make app` has just run the bundler, so it is there.
  const bundler = firstOf('bundler', [join(ROOT, 'target/debug/bundle')]);
  execFileSync(bundler, ['--plain', '--label', label, '--out', out], { cwd: ROOT, stdio: ['ignore', 'ignore', 'inherit'] });
  return out;
}

/** The version that a build's worker carries. */
export function versionOf(dist: string = DIST): string {
  return first(join(dist, 'sw.js'), /^const VERSION = "([0-9a-f]+)";/m);
}

/** The build's name as the page carries it. */
export function buildNameOf(dist: string = DIST): string {
  return first(join(dist, 'index.html'), /<meta name="build" content="([^"]+)">/);
}

/** The paths that a build's worker keeps on the device. */
export function assetsOf(dist: string = DIST): string[] {
  return JSON.parse(first(join(dist, 'sw.js'), /^const ASSETS = (\[.*\]);/m)) as string[];
}

function first(file: string, pattern: RegExp): string {
  const found = pattern.exec(readFileSync(file, 'utf8'))?.[1];
  if (found === undefined) throw new Error(`${file} has nothing like ${pattern}`);
  return found;
}
