/** Photographs as other cameras write them, and as the server stores them. */
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';

import { test } from '@playwright/test';

import type { Phone } from './phone.ts';
import type { Waxend } from './waxend.ts';

/** Corner colours from top left, clockwise: red, blue, magenta, yellow. */
const UPRIGHT = 'RBMY';

/**
 * What `UPRIGHT` looks like when it is turned as the EXIF orientations 1 to 8 say (Exif 2.32, tag 0x0112; computed with
 * Pillow's `ImageOps.exif_transpose`).
 */
export const TURNED = [UPRIGHT, 'BRYM', 'MYRB', 'YMBR', 'RYMB', 'YRBM', 'MBRY', 'BMYR'];

/** The picture of {@link locatedJpeg}, drawn once. */
let fourColours: Buffer | undefined;

/**
 * The path of a JPEG of 3000 by 2000 pixels with metadata about the place, the owner and the camera. It is deleted with the
 * output of the test.
 */
export async function locatedJpeg(phone: Phone, orientation: number): Promise<string> {
  const path = test.info().outputPath(`located-${orientation}.jpg`);
  fourColours ??= Buffer.from(await phone.run(drawn), 'base64');
  writeFileSync(path, fourColours);
  const location = ['-GPSLatitude=59.9', '-GPSLatitudeRef=N', '-GPSLongitude=10.7', '-GPSLongitudeRef=E'];
  const people = ['-Make=Camera', '-Artist=Nobody', '-XMP:Creator=Nobody', '-IPTC:By-line=Nobody', '-Comment=here'];
  const turn = `-Orientation#=${orientation}`;
  execFileSync('exiftool', ['-q', '-overwrite_original', turn, ...location, ...people, path]);
  return path;
}

/** A photograph in the server's photo folder. */
export interface Stored {
  /** The file's name: the SHA-256 by which entries refer to it. */
  name: string;
  /** The SHA-256 of its content. */
  sha256: string;
  width: number;
  height: number;
  /** The groups of metadata in it, as exiftool names them. */
  groups: string[];
  bytes: Buffer;
}

/** Every photograph in the server's photo folder, the largest first. */
export function storedOn(server: Waxend): Stored[] {
  const files = readdirSync(server.data, { recursive: true, withFileTypes: true });
  const paths = files.filter((file) => file.isFile() && /^[0-9a-f]{64}$/.test(file.name)).map((file) => join(file.parentPath, file.name));
  return tagsOf(paths).map(stored).sort((one, other) => other.width * other.height - one.width * one.height);
}

/**
 * The metadata that exiftool reads in these files. It is started once for all of them, because starting takes longer
 * than reading.
 */
function tagsOf(paths: string[]): Record<string, unknown>[] {
  if (paths.length === 0) return [];
  return JSON.parse(execFileSync('exiftool', ['-q', '-json', '-G', ...paths], { encoding: 'utf8' })) as Record<string, unknown>[];
}

function stored(tags: Record<string, unknown>): Stored {
  const path = String(tags['SourceFile']);
  const bytes = readFileSync(path);
  return {
    name: basename(path),
    sha256: createHash('sha256').update(bytes).digest('hex'),
    width: Number(tags['File:ImageWidth']),
    height: Number(tags['File:ImageHeight']),
    groups: [...new Set(Object.keys(tags).map((tag) => tag.split(':')[0] ?? ''))],
    bytes,
  };
}

/** The colours in the corners of a picture of four colours, clockwise from top left. */
export async function cornersOf(phone: Phone, { bytes }: Stored): Promise<string> {
  return phone.run(corners, bytes.toString('base64'));
}

/** In the page: a JPEG of four colours, in base 64. */
async function drawn(): Promise<string> {
  const canvas = document.createElement('canvas');
  canvas.width = 3000;
  canvas.height = 2000;
  const pen = canvas.getContext('2d')!;
  const quarters: [string, number, number][] = [['#f00', 0, 0], ['#00f', 1500, 0], ['#f0f', 1500, 1000], ['#ff0', 0, 1000]];
  for (const [colour, x, y] of quarters) {
    pen.fillStyle = colour;
    pen.fillRect(x, y, 1500, 1000);
  }
  const url = canvas.toDataURL('image/jpeg', 0.9);
  return url.slice(url.indexOf(',') + 1);
}

/** In the page: the colours in the corners of a picture, clockwise from top left. */
async function corners(base64: string): Promise<string> {
  const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
  const bitmap = await createImageBitmap(new Blob([bytes], { type: 'image/jpeg' }));
  const canvas = document.createElement('canvas');
  canvas.width = bitmap.width;
  canvas.height = bitmap.height;
  const pen = canvas.getContext('2d')!;
  pen.drawImage(bitmap, 0, 0);
  const names: Record<string, string> = { '100': 'R', '001': 'B', '101': 'M', '110': 'Y' };
  const at = (x: number, y: number): string => {
    const [red, green, blue] = pen.getImageData(x, y, 1, 1).data;
    return names[[red, green, blue].map((value) => (Number(value) > 128 ? 1 : 0)).join('')] ?? '?';
  };
  const [right, bottom] = [bitmap.width - 20, bitmap.height - 20];
  return at(20, 20) + at(right, 20) + at(right, bottom) + at(20, bottom);
}
