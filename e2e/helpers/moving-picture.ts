/**
 * The films that the fake camera plays: a moving picture, in which no two frames are alike, so that a camera that has
 * stopped is noticed; a code; or fields of colour.
 */
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

import type { DrawnCode } from './code.ts';
import { MADE } from './paths.ts';

export interface Size {
  width: number;
  height: number;
}

const FRAMES = 12;

/** The luma of a pixel, from 16 (black) to 235 (white). */
type Shade = (x: number, y: number, frame: number) => number;
/** The blue and red chroma of a pixel; 128 is neutral. */
type Tint = (x: number, y: number) => readonly [number, number];
/** Red, green and blue, 0 to 255. */
export type Rgb = readonly [number, number, number];

/** A brown, as of leather. */
const BROWN = [118, 150] as const;

/**
 * The path of a film in Y4M format of this size: a bright bar that moves over a grey gradient. The film is made at the
 * first call.
 */
export function movingPicture({ width, height }: Size): string {
  return film(`moving-${width}x${height}`, { width, height }, (x, y, frame) => {
    const inBar = Math.abs(x - (frame / FRAMES) * width) < width / 24;
    // The fine pattern makes the frame as hard to compress as leather.
    return inBar ? 235 : 40 + Math.floor((120 * x) / width) + ((x * 7 + y * 13) % 23);
  });
}

/** The pixels of a module in the camera's picture, and the angle by which the code is turned. */
const [MODULE, TURN] = [14, Math.PI / 15];

/** The path of a film of a code, slightly turned, on a grey ground. */
export function pictureOf(code: DrawnCode, { width, height }: Size): string {
  const name = createHash('sha256').update(code.path).digest('hex').slice(0, 16);
  const [sin, cos] = [Math.sin(TURN), Math.cos(TURN)];
  const dark = modulesOf(code);
  return film(`code-${name}`, { width, height }, (x, y) => {
    const [right, down] = [x - width / 2, y - height / 2];
    const column = Math.floor((right * cos + down * sin) / MODULE + code.side / 2);
    const row = Math.floor((down * cos - right * sin) / MODULE + code.side / 2);
    if (Math.min(column, row) < 0 || Math.max(column, row) >= code.side) return 110;
    return dark.has(row * code.side + column) ? 30 : 225;
  });
}

/** The path of a film of fields of colour, side by side from left to right. */
export function coloursSideBySide(colours: Rgb[], { width, height }: Size): string {
  const fields = colours.map(encoded);
  const at = (x: number): readonly [number, number, number] => fields[Math.min(fields.length - 1, Math.floor((x / width) * fields.length))]!;
  const name = colours.map((colour) => colour.join('.')).join('-');
  return film(`colours-${name}`, { width, height }, (x) => at(x)[0], (x) => [at(x)[1], at(x)[2]]);
}

/** The luma and the blue and red chroma of a colour: ITU-R BT.601, 8 bits. */
function encoded([r, g, b]: Rgb): readonly [number, number, number] {
  const [red, green, blue] = [r / 255, g / 255, b / 255];
  return [
    Math.round(16 + 65.481 * red + 128.553 * green + 24.966 * blue),
    Math.round(128 - 37.797 * red - 74.203 * green + 112 * blue),
    Math.round(128 + 112 * red - 93.786 * green - 18.214 * blue),
  ];
}

/** The dark modules of a code, from its SVG path (`M4 4h7v1h-7z`). */
function modulesOf({ side, path }: DrawnCode): Set<number> {
  const runs = [...path.matchAll(/M(\d+) (\d+)h(\d+)/g)].map((run) => run.slice(1).map(Number) as [number, number, number]);
  return new Set(runs.flatMap(([x, y, length]) => Array.from({ length }, (_, step) => y * side + x + step)));
}

function film(name: string, { width, height }: Size, shade: Shade, tint: Tint = () => BROWN): string {
  const path = join(MADE, `${name}.y4m`);
  if (existsSync(path)) return path;
  mkdirSync(MADE, { recursive: true });
  const frames = Array.from({ length: FRAMES }, (_, index) => frame(width, height, (x, y) => shade(x, y, index), tint));
  const header = Buffer.from(`YUV4MPEG2 W${width} H${height} F15:1 Ip A1:1 C420jpeg\n`);
  const part = `${path}.${process.pid}`;
  writeFileSync(part, Buffer.concat([header, ...frames]));
  renameSync(part, path);
  return path;
}

function frame(width: number, height: number, shade: (x: number, y: number) => number, tint: Tint): Buffer {
  const marker = Buffer.from('FRAME\n');
  const [luma, chroma] = [width * height, (width / 2) * (height / 2)];
  const bytes = Buffer.alloc(marker.length + luma + 2 * chroma);
  marker.copy(bytes);
  for (let y = 0; y < height; y += 1) {
    const row = marker.length + y * width;
    for (let x = 0; x < width; x += 1) bytes[row + x] = shade(x, y);
  }
  for (let y = 0; y < height; y += 2) {
    const row = marker.length + luma + (y / 2) * (width / 2);
    for (let x = 0; x < width; x += 2) [bytes[row + x / 2], bytes[row + chroma + x / 2]] = tint(x, y);
  }
  return bytes;
}
