/** Counting what a hand does. */
import type { Phone } from './phone.ts';

/** A phone that counts what is pressed. */
export interface Counting {
  press: Phone['press'];
  presses: () => number;
}

export function counting(phone: Phone): Counting {
  let count = 0;
  return {
    press: async (name, role) => {
      count += 1;
      await phone.press(name, role);
    },
    presses: () => count,
  };
}
