/** Double taps and fingers held down, which the drivers' own clicks do not imitate. */
import type { Phone } from './phone.ts';

/** The ms between the two halves of a double tap: longer than any system waits, so that they are two clicks. */
const HALVES = 180;

/**
 * A double tap on the button or link whose text begins with `begins`. The second click comes 180 ms after the first one
 * and hits what is drawn at that place then. `drawn` is a text that appears on the page after the first click.
 */
export async function doubleTap(phone: Phone, begins: string, drawn: string): Promise<void> {
  await phone.until(`two taps in one on "${begins}"`, async (begins, drawn, halves) => {
    const button = [...document.querySelectorAll('button, a')].find((one) => one.textContent?.trim().startsWith(begins));
    if (!button) return false;
    button.scrollIntoView({ block: 'center' });
    const { left, top, width, height } = button.getBoundingClientRect();
    const [x, y] = [left + width / 2, top + height / 2];
    const tap = (detail: number, at: number): void => {
      // The element that is visible there: the shield over a tap is not.
      const under = document.elementsFromPoint(x, y).find((one) => !one.matches('.shield'));
      const click = new MouseEvent('click', { bubbles: true, cancelable: true, composed: true, clientX: x, clientY: y, detail });
      // The time at which the finger would have tapped. The page may have taken longer than that meanwhile.
      Object.defineProperty(click, 'timeStamp', { value: at });
      under?.dispatchEvent(click);
    };
    const first = performance.now();
    tap(1, first);
    for (let looks = 0; looks < 2_000 && !document.body.innerText.includes(drawn); looks += 1) {
      await new Promise((resolve) => setTimeout(resolve, 5));
    }
    // What the page then reads from the store is drawn some frames later.
    for (let frames = 0; frames < 6; frames += 1) await new Promise((resolve) => requestAnimationFrame(resolve));
    tap(2, first + halves);
    return true;
  }, begins, drawn, HALVES);
}
