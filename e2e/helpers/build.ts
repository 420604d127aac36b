/** Other builds of the app, for tests of what happens when a new build is published. */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

import { DIST, MADE, ROOT, firstOf } from './paths.ts';

/**
 * A build of the same code under another label: every file name and the worker's version differ. Returns its folder.
 * Tests that run at the same time must not share it, so the label should contain the test's name.
 */
export function buildLabelled(label: string): string {
  const out = join(MADE, `dist-${label}`);
  // `make app` has run the bundler before, so it exists.
  const bundler = firstOf('bundler', [join(ROOT, 'target/debug/bundle')]);
  execFileSync(bundler, ['--plain', '--label', label, '--out', out], { cwd: ROOT, stdio: ['ignore', 'ignore', 'inherit'] });
  return out;
}

/** The version in a build's service worker. */
export function versionOf(dist: string = DIST): string {
  return first(join(dist, 'sw.js'), /^const VERSION = "([0-9a-f]+)";/m);
}

/** The name of the build in its page. */
export function buildNameOf(dist: string = DIST): string {
  return first(join(dist, 'index.html'), /<meta name="build" content="([^"]+)">/);
}

/** The paths that a build's service worker keeps on the device. */
export function assetsOf(dist: string = DIST): string[] {
  return JSON.parse(first(join(dist, 'sw.js'), /^const ASSETS = (\[.*\]);/m)) as string[];
}

function first(file: string, pattern: RegExp): string {
  const found = pattern.exec(readFileSync(file, 'utf8'))?.[1];
  if (found === undefined) throw new Error(`${file} has nothing like ${pattern}`);
  return found;
}
