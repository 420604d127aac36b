/** The codes that the app prints. */
import type { Phone } from './phone.ts';

/** A code as the app draws it: modules per side including the margin, and the dark modules as an SVG path. */
export interface DrawnCode {
  side: number;
  path: string;
}

/** The code with this name on the sheet that is shown. */
export async function codeOn(phone: Phone, name: string): Promise<DrawnCode> {
  return phone.until(`a ${name}`, (label) => {
    const drawing = document.querySelector<SVGSVGElement>(`svg[aria-label="${label}"]`);
    const path = drawing?.querySelector('path')?.getAttribute('d');
    return drawing && path ? { side: drawing.viewBox.baseVal.width, path } : null;
  }, name);
}
