/**
 * A small server for tests of the app's shell: it serves a build as `waxend serve` does (the same headers, the same
 * 404s), can switch to another build while it runs, and can be stopped and started at the same address.
 */
import { readFile } from 'node:fs/promises';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join, normalize } from 'node:path';

const TYPES: Record<string, string> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.wasm': 'application/wasm',
  '.json': 'application/json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.webmanifest': 'application/manifest+json',
};

const POLICY =
  "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' blob:; " +
  "media-src 'self' blob:; connect-src *; object-src 'none'; base-uri 'none'; frame-ancestors 'none'";

/** The `Vary` header, which makes a cached response valid only for requests with equal headers. */
const VARY = 'accept-encoding, origin, access-control-request-method, access-control-request-headers';

/** Paths that belong to the server and not to the app. */
const SERVERS_OWN = /^\/(api|card)\/|^\/health$/;

export class Site {
  /** The folder that is served. It can be changed at any time. */
  folder: string;
  /** Paths that are answered with 404. */
  readonly lost = new Set<string>();
  /** Paths that are answered only after these promises. */
  readonly held = new Map<string, Promise<void>>();
  /** Every request so far, as `GET /path`. */
  readonly requests: string[] = [];
  #server: Server | undefined;
  #port = 0;

  constructor(folder: string) {
    this.folder = folder;
  }

  static async start(folder: string): Promise<Site> {
    const site = new Site(folder);
    await site.start();
    return site;
  }

  get url(): string {
    return `http://127.0.0.1:${this.#port}`;
  }

  /** Starts it, at its former address if it had one. */
  async start(): Promise<void> {
    const server = createServer((request, response) => void this.#answer(request, response));
    await new Promise<void>((resolve, reject) => {
      server.once('error', reject);
      server.listen(this.#port, '127.0.0.1', resolve);
    });
    this.#port = (server.address() as AddressInfo).port;
    this.#server = server;
  }

  /** Stops it and closes open connections, as if the network were gone. */
  async stop(): Promise<void> {
    const server = this.#server;
    if (!server) return;
    this.#server = undefined;
    const closed = new Promise((resolve) => server.close(resolve));
    server.closeAllConnections();
    await closed;
  }

  async #answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const { pathname } = new URL(request.url ?? '/', this.url);
    this.requests.push(`${request.method} ${pathname}`);
    await this.held.get(pathname);
    if (SERVERS_OWN.test(pathname)) {
      response.writeHead(200, { 'content-type': 'text/html', 'cache-control': 'no-store' });
      response.end(`<!doctype html><title>server</title><p>The server itself: ${request.method} ${pathname}`);
      return;
    }
    const isFile = extname(pathname) !== '';
    const path = isFile ? pathname : '/index.html';
    try {
      if (this.lost.has(path)) throw new Error('lost');
      const body = await readFile(join(this.folder, normalize(path)));
      response.writeHead(200, {
        'content-type': TYPES[extname(path)] ?? 'application/octet-stream',
        'cache-control': path.startsWith('/pkg/') ? 'public, max-age=31536000, immutable' : 'no-cache',
        'content-security-policy': POLICY,
        vary: VARY,
      });
      response.end(body);
    } catch {
      response.writeHead(404, { 'content-type': 'text/plain' });
      response.end('not found');
    }
  }
}
