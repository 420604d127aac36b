/** What the fake camera shows: a picture that moves, so that no two frames are alike and a frozen camera is noticed, or a code. */
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

/** Brightness of a place in a frame, 16 (black) to 235 (white). */
type Shade = (x: number, y: number, frame: number) => number;

/** The path of a Y4M film of this size, made at the first call: a bright bar that crosses a grey gradient. */
export function movingPicture({ width, height }: Size): string {
  return film(`moving-${width}x${height}`, { width, height }, (x, y, frame) => {
    const inBar = Math.abs(x - (frame / FRAMES) * width) < width / 24;
    // The fine pattern gives the encoder something to do, as leather does.
    return inBar ? 235 : 40 + Math.floor((120 * x) / width) + ((x * 7 + y * 13) % 23);
  });
}

/** Pixels of a module as the camera sees it, and how far the code is turned. */
const [MODULE, TURN] = [14, Math.PI / 15];

/** The path of a film of a code that lies, a little turned, on a grey bench. */
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

/** The dark modules of a code, from the runs of its path (`M4 4h7v1h-7z`). */
function modulesOf({ side, path }: DrawnCode): Set<number> {
  const runs = [...path.matchAll(/M(\d+) (\d+)h(\d+)/g)].map((run) => run.slice(1).map(Number) as [number, number, number]);
  return new Set(runs.flatMap(([x, y, length]) => Array.from({ length }, (_, step) => y * side + x + step)));
}

function film(name: string, { width, height }: Size, shade: Shade): string {
  const path = join(MADE, `${name}.y4m`);
  if (existsSync(path)) return path;
  mkdirSync(MADE, { recursive: true });
  const frames = Array.from({ length: FRAMES }, (_, index) => frame(width, height, (x, y) => shade(x, y, index)));
  const header = Buffer.from(`YUV4MPEG2 W${width} H${height} F15:1 Ip A1:1 C420jpeg\n`);
  const part = `${path}.${process.pid}`;
  writeFileSync(part, Buffer.concat([header, ...frames]));
  renameSync(part, path);
  return path;
}

function frame(width: number, height: number, shade: (x: number, y: number) => number): Buffer {
  const marker = Buffer.from('FRAME\n');
  const [luma, chroma] = [width * height, (width / 2) * (height / 2)];
  const bytes = Buffer.alloc(marker.length + luma + 2 * chroma);
  marker.copy(bytes);
  for (let y = 0; y < height; y += 1) {
    const row = marker.length + y * width;
    for (let x = 0; x < width; x += 1) bytes[row + x] = shade(x, y);
  }
  bytes.fill(118, marker.length + luma, marker.length + luma + chroma);
  bytes.fill(150, marker.length + luma + chroma);
  return bytes;
}
