/** The picture that the fake camera shows: it moves, so that no two frames are alike and a frozen camera is noticed. */
import { existsSync, mkdirSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

import { MADE } from './paths.ts';

export interface Size {
  width: number;
  height: number;
}

const FRAMES = 12;

/** The path of a Y4M film of this size, made at the first call: a bright bar that crosses a grey gradient. */
export function movingPicture({ width, height }: Size): string {
  const path = join(MADE, `moving-${width}x${height}.y4m`);
  if (existsSync(path)) return path;
  mkdirSync(MADE, { recursive: true });
  const frames = Array.from({ length: FRAMES }, (_, index) => frame(width, height, index));
  const header = Buffer.from(`YUV4MPEG2 W${width} H${height} F15:1 Ip A1:1 C420jpeg\n`);
  const part = `${path}.${process.pid}`;
  writeFileSync(part, Buffer.concat([header, ...frames]));
  renameSync(part, path);
  return path;
}

function frame(width: number, height: number, index: number): Buffer {
  const marker = Buffer.from('FRAME\n');
  const [luma, chroma] = [width * height, (width / 2) * (height / 2)];
  const bytes = Buffer.alloc(marker.length + luma + 2 * chroma);
  marker.copy(bytes);
  const bar = (index / FRAMES) * width;
  for (let y = 0; y < height; y += 1) {
    const row = marker.length + y * width;
    for (let x = 0; x < width; x += 1) {
      const inBar = Math.abs(x - bar) < width / 24;
      // The fine pattern gives the encoder something to do, as leather does.
      bytes[row + x] = inBar ? 235 : 40 + Math.floor((120 * x) / width) + ((x * 7 + y * 13) % 23);
    }
  }
  bytes.fill(118, marker.length + luma, marker.length + luma + chroma);
  bytes.fill(150, marker.length + luma + chroma);
  return bytes;
}
