/**
 * A phone in somebody's hand: what a story may do with it, whatever the browser inside. Two browsers carry it out:
 * `chromium.ts` and `webkit.ts`; in a third, `firefox.ts`, there is as much as the main job takes. Names are those a
 * person or a screen reader would find (accessible names), matched whole when they are strings.
 */

export type Engine = 'chromium' | 'webkit';

/** A name as a person would find it: a string in full, or a pattern. */
export type Name = string | RegExp;

/** What may be pressed. */
export type Role = 'button' | 'link' | 'checkbox' | 'radio' | 'tab' | 'option' | 'switch' | 'menuitem';

export interface Screen {
  width: number;
  height: number;
}

/** A phone held upright: what the app is made for. */
export const UPRIGHT: Screen = { width: 390, height: 844 };
/** A counter computer. */
export const DESK: Screen = { width: 1280, height: 800 };

export type Theme = 'light' | 'dark';

/** What a new phone is like. */
export interface Habits {
  screen?: Screen;
  /** `denied`: the person said no when the app asked for the camera. Chromium only. */
  camera?: 'moving' | 'denied';
  /** `off`: the page's own scripts do not run. A care card must do without. */
  script?: 'on' | 'off';
}

/** A value that can travel into the page and back. */
export type Plain = string | number | boolean | null | undefined | Plain[] | { [key: string]: Plain };

/** What the main job asks of a phone: to join, to take a pair in, to photograph it, and to look whether all is there. */
export interface PlainPhone {
  /** Goes to an address and waits for the page to load. */
  open(url: string): Promise<void>;
  /** Loads the page again. */
  reload(): Promise<void>;

  /** Presses what bears this name; `button` unless told otherwise. Waits until it is there. */
  press(name: Name, role?: Role): Promise<void>;
  /** Writes into the field with this label, in place of what it held. */
  fill(label: Name, text: string): Promise<void>;

  /** Waits until the text can be read on the page. Runs of white space count as one space. */
  sees(text: string): Promise<void>;
  /** Waits until something matches the selector. */
  finds(selector: string): Promise<void>;

  /** Runs a function in the page and returns what it returns. It sees only its own arguments. */
  run<A extends Plain[], R>(work: (...args: A) => R | Promise<R>, ...args: A): Promise<R>;
  /** Waits until a function in the page returns something true, and returns that. */
  until<A extends Plain[], R>(what: string, work: (...args: A) => R | Promise<R>, ...args: A): Promise<NonNullable<R>>;

  /** Puts it away for good. */
  close(): Promise<void>;
}

export interface Phone extends PlainPhone {
  readonly engine: Engine;

  /** The address shown. */
  address(): Promise<string>;

  /** Picks an option, by its text, in the list with this label. */
  choose(label: Name, option: string): Promise<void>;
  /** Hands a file to the file field with this label. */
  attach(label: Name, path: string): Promise<void>;
  /** Presses a key (`Enter`, ` `), as a foot pedal or a remote does. */
  key(key: string): Promise<void>;

  /** Waits until the text cannot be read on the page. */
  seesNo(text: string): Promise<void>;
  /** How many things match the selector now. */
  count(selector: string): Promise<number>;
  /** Whether a field, button or link of this name is there now. */
  has(name: Name, role: Role): Promise<boolean>;

  /** Takes a screenshot, as PNG bytes. */
  picture(): Promise<Buffer>;
  /** Turns the phone or moves to a desk. */
  resize(screen: Screen): Promise<void>;
}
