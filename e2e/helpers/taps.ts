/** Hands that tremble, and fingers that rest: what the drivers' own clicks are too tidy for. */
import type { Phone } from './phone.ts';

/** How long after the first half of a double tap its second half comes, in ms: longer than any system waits for it, it is two. */
const HALVES = 180;

/**
 * Two taps in one on the button or link whose words begin so: the second, 180 ms after the first, hits what is drawn at that
 * place by then. `drawn`: a text that the first one brings onto the page.
 */
export async function doubleTap(phone: Phone, begins: string, drawn: string): Promise<void> {
  await phone.until(`two taps in one on "${begins}"`, async (begins, drawn, halves) => {
    const button = [...document.querySelectorAll('button, a')].find((one) => one.textContent?.trim().startsWith(begins));
    if (!button) return false;
    button.scrollIntoView({ block: 'center' });
    const { left, top, width, height } = button.getBoundingClientRect();
    const [x, y] = [left + width / 2, top + height / 2];
    const tap = (detail: number, at: number): void => {
      // What an eye sees there: the shield over a tap cannot be seen.
      const under = document.elementsFromPoint(x, y).find((one) => !one.matches('.shield'));
      const click = new MouseEvent('click', { bubbles: true, cancelable: true, composed: true, clientX: x, clientY: y, detail });
      // When the finger moved. The page may have had more to do meanwhile than a hand waits for.
      Object.defineProperty(click, 'timeStamp', { value: at });
      under?.dispatchEvent(click);
    };
    const first = performance.now();
    tap(1, first);
    for (let looks = 0; looks < 2_000 && !document.body.innerText.includes(drawn); looks += 1) {
      await new Promise((resolve) => setTimeout(resolve, 5));
    }
    // What is read from the store on that news is drawn a moment later.
    for (let frames = 0; frames < 6; frames += 1) await new Promise((resolve) => requestAnimationFrame(resolve));
    tap(2, first + halves);
    return true;
  }, begins, drawn, HALVES);
}
