/** The figures as a Markdown table for FIGURES.md. */
import { kept, type Measure } from './figure.ts';

const HEAD = ['figure', 'throttle', 'Waxend', 'bare', 'ratio', 'target', ''];

export function table(measures: Measure[]): string {
  const rows = [HEAD, ...measures.map(row)];
  const widths = HEAD.map((_, column) => Math.max(...rows.map((cells) => cells[column]!.length)));
  const line = (cells: string[]): string => `| ${cells.map((cell, column) => cell.padEnd(widths[column]!)).join(' | ')} |`;
  const rule = `|${widths.map((width) => '-'.repeat(width + 2)).join('|')}|`;
  return [line(HEAD), rule, ...rows.slice(1).map(line)].join('\n');
}

/** The document with this table in the place of the former one, which stands between two comments. */
export function intoPaper(paper: string, made: string): string {
  const [begin, end] = ['<!-- table: written by `make bench` -->\n', '\n<!-- /table -->'];
  const [before, rest] = paper.split(begin);
  const after = rest?.split(end)[1];
  if (before === undefined || after === undefined) throw new Error('FIGURES.md has no place for the table');
  return `${before}${begin}${made}${end}${after}`;
}

function row(measure: Measure): string[] {
  const { what, throttle = 'none', unit, ours, bare } = measure;
  const verdict = { true: 'kept', false: 'MISSED', undefined: '' }[String(kept(measure)) as 'true'];
  return [
    what,
    throttle,
    amount(ours, unit),
    amount(bare, unit),
    ours === undefined || bare === undefined ? '-' : (ours / bare).toFixed(2),
    goal(measure),
    verdict,
  ];
}

function goal({ target, unit }: Measure): string {
  if (!target) return '-';
  return 'most' in target ? `<= ${target.most} ${unit}` : `<= ${target.timesBare} x bare`;
}

function amount(value: number | undefined, unit: string): string {
  return value === undefined ? '-' : `${round(value)} ${unit}`;
}

function round(value: number): string {
  return value >= 100 ? value.toFixed(0) : value.toFixed(value >= 10 ? 1 : 2);
}
