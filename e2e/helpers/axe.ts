/** Accessibility checks, run in the page. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

import type { Phone } from './phone.ts';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** WCAG 2.2 levels A and AA, and the higher contrast that is needed at a bench in daylight. */
const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
const STRICTER = ['color-contrast-enhanced'];

interface Finding {
  id: string;
  help: string;
  nodes: { target: unknown; failureSummary?: string }[];
}

/** The rules that the page violates, one line per element; empty if there are none. */
export async function breaches(phone: Phone): Promise<string[]> {
  if (!(await phone.run(() => 'axe' in window))) await phone.run(new Function(AXE) as () => void);
  const findings = (await phone.run(inspect, TAGS, STRICTER)) as Finding[];
  return findings.flatMap(({ id, help, nodes }) =>
    nodes.map((node) => `${id} (${help}) at ${JSON.stringify(node.target)}: ${node.failureSummary ?? ''}`),
  );
}

async function inspect(tags: string[], stricter: string[]): Promise<unknown> {
  type Axe = { run(options: object): Promise<{ violations: unknown[] }> };
  const { axe } = window as unknown as { axe: Axe };
  const rules = Object.fromEntries(stricter.map((rule) => [rule, { enabled: true }]));
  // What a bar covers can be scrolled out from under it, so bars that are fixed or sticky lie in the page meanwhile.
  const inFlow = new CSSStyleSheet();
  inFlow.replaceSync('.say, .places, .dock, .work-bar, .finish, .asked.open, .rail { position: static !important; }');
  document.adoptedStyleSheets.push(inFlow);
  const found = await axe.run({ runOnly: { type: 'tag', values: tags }, rules, resultTypes: ['violations'] });
  document.adoptedStyleSheets.pop();
  return JSON.parse(JSON.stringify(found.violations));
}
