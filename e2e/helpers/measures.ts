/**
 * What can be measured of a screen on a phone, and the table and the limits of it.
 *
 * A measure has a name (`Bench: page height, px`) and is a number. `pictures/MEASURES.md` is the table of all of them,
 * before the screens were drawn anew and after, beside what is aimed at. `fixtures/measures.json` has for each the limit
 * that a test holds it to. The limits leave room, because the demo shop is filled for the hour of the run, so that
 * another text is shown in another hour.
 */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { join } from 'node:path';

import type { ChromiumPhone } from './chromium.ts';
import { GOALS } from './goals.ts';
import { DESK, UPRIGHT, type Theme } from './phone.ts';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const TABLE = here('../pictures/MEASURES.md');
const LIMITS = here('../fixtures/measures.json');

/** The values of measures by their names. */
export type Measured = Map<string, number>;

/** What a run does: note a column of the table and take pictures, note new limits, or hold the measures to their limits. */
export type Purpose = 'before' | 'after' | 'limits' | 'hold';

/** The purpose of this run, from the environment variable `WAXEND_MEASURES`. */
export function purpose(): Purpose {
  const said = process.env['WAXEND_MEASURES'] ?? 'hold';
  if (said === 'before' || said === 'after' || said === 'limits' || said === 'hold') return said;
  throw new Error(`WAXEND_MEASURES is "${said}", which is none of before, after, limits`);
}

/**
 * A kind of measure: how its name ends, whether more of it is worse, and how much room its limit has. What the demo shop shows
 * depends on the hour: there is room for that, and none for a screen that becomes half as long again.
 */
interface Kind {
  name: string;
  worse: 'more' | 'less';
  limit: (value: number) => number;
}

/** To the next ten. */
const upToTen = (value: number): number => Math.ceil(value / 10) * 10;

const KINDS = {
  height: { name: 'page height, px', worse: 'more', limit: (value) => (value === UPRIGHT.height ? value : upToTen(value * 1.4)) },
  head: { name: 'head before the first content, px', worse: 'more', limit: (value) => upToTen(value * 1.5 + 50) },
  controls: { name: 'what can be pressed in the first view', worse: 'more', limit: (value) => Math.ceil(value * 1.5) + 3 },
  pairs: { name: 'pairs wholly in the first view', worse: 'less', limit: (value) => Math.max(0, value - 3) },
  picture: { name: 'widest picture, px', worse: 'less', limit: (value) => Math.floor(value * 0.7) },
  shift: { name: 'layout shift while loading', worse: 'more', limit: (value) => Math.ceil(value * 120 + 28) / 100 },
  wide: { name: 'wider than a screen of 320 px, px', worse: 'more', limit: (value) => value + 8 },
  part: { name: 'height, px', worse: 'more', limit: (value) => upToTen(value * 1.4) },
  taps: { name: 'taps', worse: 'more', limit: (value) => value },
} as const satisfies Record<string, Kind>;

/** The name of a measure. */
export function named(of: string, kind: keyof typeof KINDS): string {
  return `${of}: ${KINDS[kind].name}`;
}

/** How one screen is measured. */
export interface Looked {
  /** Its name in the table. */
  title: string;
  /** A selector of what it is for, so that all above it is its head. */
  content: string;
  /** A selector of the links that stand for a pair; they are counted if it is given. */
  pairs?: string;
}

/** In the page: resolves once nothing has changed for some frames and every picture has been tried. */
export function quiet(frames: number): Promise<boolean> {
  return new Promise((resolve) => {
    let [same, before] = [0, ''];
    const look = (): void => {
      const busy = [...document.images].some((image) => image.loading !== 'lazy' && !image.complete);
      const now = `${document.documentElement.scrollHeight} ${document.querySelectorAll('*').length} ${document.body.innerText.length}`;
      same = !busy && now === before ? same + 1 : 0;
      before = now;
      if (same >= frames) resolve(true);
      else requestAnimationFrame(look);
    };
    look();
  });
}

/** The frames in which nothing may change before a screen is measured. */
export const FRAMES = 20;

/** In the page: what is measured of a screen that is scrolled to its top. */
function look(content: string, pairs: string): { height: number; head: number; controls: number; pairs: number; picture: number } {
  const first = document.querySelector(content);
  if (!first) throw new Error(`nothing is like ${content}`);
  const inView = (element: Element, whole: boolean): boolean => {
    const { left, right, top, bottom, width, height } = element.getBoundingClientRect();
    if (width === 0 || height === 0 || !element.checkVisibility({ visibilityProperty: true })) return false;
    const [x, y] = [(left + right) / 2, (top + bottom) / 2];
    // At the upper edge of a pair's picture stand its number and the camera.
    const points = whole ? [[x, top + 0.45 * height], [x, bottom - 2]] : [[x, y]];
    if (whole && top < 0) return false;
    return points.every(([x, y]) => {
      // The shield over a tap is not seen.
      const seen = document.elementsFromPoint(x!, y!).find((one) => !one.matches('.shield'));
      return seen !== undefined && (element.contains(seen) || seen.contains(element));
    });
  };
  const pressed = 'a[href], button:enabled, summary, input:enabled, select:enabled, textarea:enabled';
  const shown = pairs === '' ? [] : [...document.querySelectorAll<HTMLAnchorElement>(pairs)].filter((one) => inView(one, true));
  const pictures = [...document.querySelectorAll('img, video')].map((one) => one.getBoundingClientRect());
  return {
    height: document.documentElement.scrollHeight,
    head: Math.round(first.getBoundingClientRect().top + scrollY),
    controls: [...document.querySelectorAll(pressed)].filter((one) => inView(one, false)).length,
    pairs: new Set(shown.map((one) => one.pathname)).size,
    picture: Math.round(Math.max(0, ...pictures.filter(({ height }) => height > 0).map(({ width }) => width))),
  };
}

/** In the page: the layout shift since it was loaded, as browsers count it, without what follows a tap. */
async function shifted(): Promise<number> {
  let sum = 0;
  const add = (list: { getEntries: () => PerformanceEntryList }): void => {
    for (const entry of list.getEntries() as (PerformanceEntry & { value: number; hadRecentInput: boolean })[]) {
      if (!entry.hadRecentInput) sum += entry.value;
    }
  };
  const observer = new PerformanceObserver(add);
  observer.observe({ type: 'layout-shift', buffered: true });
  for (let frames = 0; frames < 3; frames += 1) await new Promise((resolve) => requestAnimationFrame(resolve));
  add({ getEntries: () => observer.takeRecords() });
  observer.disconnect();
  return Math.round(sum * 1000) / 1000;
}

/** Measures the screen that is shown. `loaded`: it was just loaded, so that what has shifted meanwhile is its own. */
export async function measure(phone: ChromiumPhone, of: Looked, loaded: boolean): Promise<Measured> {
  const { title } = of;
  await phone.run(quiet, FRAMES);
  await phone.run(() => scrollTo(0, 0));
  const seen = await phone.run(look, of.content, of.pairs ?? '');
  const measured: Measured = new Map([
    [named(title, 'height'), seen.height],
    [named(title, 'head'), seen.head],
    [named(title, 'controls'), seen.controls],
  ]);
  if (of.pairs !== undefined) measured.set(named(title, 'pairs'), seen.pairs);
  if (seen.picture > 0) measured.set(named(title, 'picture'), seen.picture);
  if (loaded) measured.set(named(title, 'shift'), await phone.run(shifted));
  await phone.resize({ width: 320, height: 568 });
  await phone.run(quiet, 4);
  measured.set(named(title, 'wide'), await phone.run(() => document.documentElement.scrollWidth - document.documentElement.clientWidth));
  await phone.resize(UPRIGHT);
  return measured;
}

/** The height of a part of a screen: of all elements that match. */
export async function heightOf(phone: ChromiumPhone, selector: string): Promise<number> {
  return phone.run((selector) => {
    const parts = [...document.querySelectorAll(selector)];
    if (parts.length === 0) throw new Error(`nothing is like ${selector}`);
    return Math.round(parts.reduce((sum, one) => sum + one.getBoundingClientRect().height, 0));
  }, selector);
}

/** The most of a page that a picture shows, in px from its top. */
const CUT = 1700;
/** The quality of the pictures, which are for people to look at, small enough to be kept. */
const QUALITY = 50;

/**
 * Takes pictures of the screen that is shown: on a phone from its top, or from where it stands if `from` is `here`; and
 * on a desk; each in light and dark mode.
 */
export async function photograph(phone: ChromiumPhone, folder: string, name: string, from: 'top' | 'here' = 'top'): Promise<void> {
  const into = here(`../pictures/${folder}`);
  mkdirSync(into, { recursive: true });
  const path = (place: string, theme: Theme): string => join(into, `${name}-${place}-${theme}.jpg`);
  const common = { type: 'jpeg', quality: QUALITY, animations: 'disabled' } as const;
  for (const theme of ['light', 'dark'] satisfies Theme[]) {
    await phone.theme(theme);
    await phone.run(quiet, 4);
    if (from === 'top') {
      const height = Math.min(CUT, await phone.run(() => document.documentElement.scrollHeight));
      await phone.page.screenshot({ ...common, path: path('phone', theme), fullPage: true, clip: { x: 0, y: 0, width: UPRIGHT.width, height } });
    } else {
      await phone.page.screenshot({ ...common, path: path('phone', theme) });
    }
  }
  if (from === 'top') {
    await phone.resize(DESK);
    for (const theme of ['dark', 'light'] satisfies Theme[]) {
      await phone.theme(theme);
      await phone.run(quiet, FRAMES);
      await phone.page.screenshot({ ...common, path: path('desk', theme) });
    }
    await phone.resize(UPRIGHT);
  }
  await phone.theme('light');
}

/** The measures that are worse than their limit, in words; also those that have no limit, and limits of nothing. */
export function worse(measured: Measured): string[] {
  const limits = new Map(Object.entries(JSON.parse(readFileSync(LIMITS, 'utf8')) as Record<string, number>));
  const wrong = [...measured].flatMap(([name, value]) => {
    const limit = limits.get(name);
    if (limit === undefined) return [`${name}: ${value} has no limit`];
    const over = kindOf(name).worse === 'more' ? value > limit : value < limit;
    return over ? [`${name}: ${value}, and the limit is ${limit}`] : [];
  });
  return [...wrong, ...[...limits.keys()].filter((name) => !measured.has(name)).map((name) => `${name}: was not measured`)];
}

function kindOf(name: string): Kind {
  const kind = Object.values(KINDS).find((one) => name.endsWith(`: ${one.name}`));
  if (!kind) throw new Error(`${name} is no kind of measure`);
  return kind;
}

/** Writes limits that these measures keep. */
export function noteLimits(measured: Measured): void {
  const limits = [...measured].map(([name, value]) => [name, kindOf(name).limit(value)]);
  writeFileSync(LIMITS, `${JSON.stringify(Object.fromEntries(limits), null, 2)}\n`);
}

/** Writes a column of the table; the other one stays. */
export function noteColumn(column: 'before' | 'after', measured: Measured): void {
  const rows = new Map<string, { before: string; after: string }>();
  const old = existsSync(TABLE) ? readFileSync(TABLE, 'utf8') : '';
  for (const line of old.split('\n')) {
    const [name, before, after] = line.split('|').slice(1).map((cell) => cell.trim());
    if (name?.includes(': ')) rows.set(name, { before: before ?? '', after: after ?? '' });
  }
  for (const row of rows.values()) row[column] = '';
  for (const [name, value] of measured) rows.set(name, { before: '', after: '', ...rows.get(name), [column]: String(value) });
  const lines = [...rows].filter(([, row]) => row.before + row.after !== '').map(([name, row]) => `| ${name} | ${row.before} | ${row.after} | ${GOALS[name] ?? ''} |`);
  const head = ['# Measures of the screens', '', INTRODUCTION, '', '| measure | before | after | goal |', '| --- | ---: | ---: | --- |'];
  writeFileSync(TABLE, `${[...head, ...lines].join('\n')}\n`);
}

const INTRODUCTION = `The demo shop on a phone of 390×844 px, before its screens were drawn anew and after. \`WAXEND_MEASURES=before\` (or \`after\`) with
\`chromium/measures\` writes a column, and pictures of every screen beside this file. Without it the test holds each measure to
its limit in \`fixtures/measures.json\`. A field and a press are a tap each.`;
