/** Printed pages: a page is printed as PDF and read with an independent program (poppler). */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

import type { ChromiumPhone } from './chromium.ts';

export interface Sheets {
  pages: number;
  /** The width of the first page in millimetres, rounded. */
  width: number;
  height: number;
  /** The text on the pages. */
  text: string;
}

/** Prints the page that is shown: on the paper that its style sheet sets, or on `paper`, given in millimetres. */
export async function printed(phone: ChromiumPhone, paper?: { width: number; height: number }): Promise<Sheets> {
  const size = paper ? { width: `${paper.width}mm`, height: `${paper.height}mm` } : { preferCSSPageSize: true };
  const pdf = await phone.page.pdf({ ...size, printBackground: false });
  const folder = mkdtempSync(join(tmpdir(), 'waxend-paper-'));
  try {
    const file = join(folder, 'card.pdf');
    writeFileSync(file, pdf);
    const facts = execFileSync('pdfinfo', [file], { encoding: 'utf8' });
    const [, pages = ''] = /^Pages:\s+(\d+)/m.exec(facts) ?? [];
    const [, width = '', height = ''] = /^Page size:\s+([\d.]+) x ([\d.]+) pts/m.exec(facts) ?? [];
    const text = execFileSync('pdftotext', [file, '-'], { encoding: 'utf8' }).replace(/\s+/g, ' ');
    return { pages: Number(pages), width: millimetres(width), height: millimetres(height), text };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Converts PDF points of 1/72 inch (ISO 32000-1, 8.3.2.3) to millimetres. */
function millimetres(points: string): number {
  return Math.round((Number(points) / 72) * 25.4);
}
