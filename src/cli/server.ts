/**
 * The application on the loopback address, and the panel file beside it.
 *
 * Only this machine can reach it, and of its browsers only pages that it served itself: a page of another site that points its
 * own name at 127.0.0.1 fails the check of the host, and one that sends requests here fails the check of the origin.
 * It answers GET and HEAD with its own files by exact name, `/panel` with the text of the panel file (204 where none is open: that
 * is no error, and a browser notes none), and `/panel/changes` with an event for each change on disk: `change` carries what `/panel`
 * gives, `gone` says that the file cannot be read any more.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { basename, extname, join, relative, sep } from 'node:path';
import { type FileState, type Followed, followFile } from './follow-file.ts';
import type { Served, ServeRequest } from './io.ts';
import { Refusal } from './refusal.ts';
import { reasonOf } from './write-whole.ts';

const ADDRESS = '127.0.0.1';
const PORT = 4180;
/** Ports tried after the first before any free one is taken. */
const NEXT_PORTS = 20;
/** Some intermediaries drop a silent connection; a comment line keeps it open, milliseconds. */
const HEARTBEAT = 25_000;

const POLICY =
  "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; connect-src 'self'; " +
  "worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

const HEADERS: Readonly<Record<string, string>> = {
  'Content-Security-Policy': POLICY,
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Cross-Origin-Opener-Policy': 'same-origin',
};

const TYPES: Readonly<Record<string, string>> = {
  '.css': 'text/css; charset=utf-8',
  '.html': 'text/html; charset=utf-8',
  '.ico': 'image/x-icon',
  '.js': 'text/javascript; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.map': 'application/json; charset=utf-8',
  '.pdf': 'application/pdf',
  '.png': 'image/png',
  '.svg': 'image/svg+xml',
  '.txt': 'text/plain; charset=utf-8',
  '.wasm': 'application/wasm',
  '.webmanifest': 'application/manifest+json; charset=utf-8',
  '.woff2': 'font/woff2',
};

/** Every file of the application by the path that a browser asks for. Nothing else is ever read. */
function filesOf(webRoot: string): ReadonlyMap<string, string> {
  const files = new Map<string, string>();
  for (const entry of readdirSync(webRoot, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue;
    const path = join(entry.parentPath ?? entry.path, entry.name);
    files.set(`/${relative(webRoot, path).split(sep).join('/')}`, path);
  }
  const index = files.get('/index.html');
  if (index !== undefined) files.set('/', index);
  return files;
}

/** What `/panel` and the event `change` carry. */
const panelJson = (file: string, text: string): string => JSON.stringify({ file: basename(file), text });

function answer(
  response: ServerResponse,
  status: number,
  type: string,
  body: string | Uint8Array,
  more: Record<string, string> = {},
): void {
  response.writeHead(status, {
    ...HEADERS,
    'Content-Type': type,
    'Content-Length': Buffer.byteLength(body),
    'Cache-Control': 'no-store',
    ...more,
  });
  response.end(response.req.method === 'HEAD' ? undefined : body);
}

const refuse = (response: ServerResponse, status: number, says: string, more: Record<string, string> = {}): void =>
  answer(response, status, TYPES['.txt'] ?? '', `${says}\n`, more);

/** Send every change of the file for as long as the browser listens. */
function sendChanges(request: IncomingMessage, response: ServerResponse, file: string, followed: Followed): void {
  response.writeHead(200, {
    ...HEADERS,
    'Content-Type': 'text/event-stream; charset=utf-8',
    'Cache-Control': 'no-store',
  });
  const send = (state: FileState): void => {
    const data =
      state.kind === 'text'
        ? panelJson(file, state.text)
        : JSON.stringify({ file: basename(file), reason: state.reason });
    response.write(`id: ${state.hash}\nevent: ${state.kind === 'text' ? 'change' : 'gone'}\ndata: ${data}\n\n`);
  };
  const end = followed.onChange(send);
  const known = request.headers['last-event-id'];
  const state = followed.now();
  // A browser that comes back says what it saw last: what changed meanwhile is sent at once.
  if (known !== undefined && known !== state.hash) send(state);
  else response.write(`retry: 1000\nid: ${state.hash}\n\n`);
  const beat = setInterval(() => response.write(':\n\n'), HEARTBEAT);
  response.on('close', () => {
    clearInterval(beat);
    end();
  });
}

/** Listen on a port; false where it is in use. */
const listen = (server: Server, port: number): Promise<boolean> =>
  new Promise((done, fail) => {
    const failed = (error: NodeJS.ErrnoException): void => {
      server.removeListener('listening', listening);
      if (error.code === 'EADDRINUSE') done(false);
      else fail(new Refusal(`Port ${port} cannot be used: ${reasonOf(error)}.`));
    };
    const listening = (): void => {
      server.removeListener('error', failed);
      done(true);
    };
    server.once('error', failed);
    server.once('listening', listening);
    server.listen(port, ADDRESS);
  });

/** Serve the application in `webRoot`. Refuses a file that cannot be read and a port that is taken. */
export async function serve(webRoot: string, request: ServeRequest): Promise<Served> {
  let files: ReadonlyMap<string, string>;
  try {
    files = filesOf(webRoot);
  } catch {
    files = new Map();
  }
  if (!files.has('/')) throw new Refusal('The application is not built: run npm run build.');
  const { file } = request;
  const followed = file === null ? null : await followFile(file);

  const server = createServer((incoming, response) => {
    const port = incoming.socket.localPort;
    const hosts = [`${ADDRESS}:${port}`, `localhost:${port}`];
    const { host, origin } = incoming.headers;
    if (host === undefined || !hosts.includes(host.toLowerCase())) {
      refuse(response, 403, 'This address is not one of mine.');
      return;
    }
    if (origin !== undefined && !hosts.some((own) => origin.toLowerCase() === `http://${own}`)) {
      refuse(response, 403, 'Pages of other sites get no answer here.');
      return;
    }
    if (incoming.method !== 'GET' && incoming.method !== 'HEAD') {
      refuse(response, 405, 'Only GET and HEAD are answered.', { Allow: 'GET, HEAD' });
      return;
    }
    const path = (incoming.url ?? '').split(/[?#]/, 1)[0] ?? '';
    if (path === '/panel' || path === '/panel/changes') {
      const site = incoming.headers['sec-fetch-site'];
      if (site !== undefined && site !== 'same-origin' && site !== 'none') {
        refuse(response, 403, 'Pages of other sites get no answer here.');
        return;
      }
      if (file === null || followed === null) {
        if (path === '/panel') response.writeHead(204, { ...HEADERS, 'Cache-Control': 'no-store' }).end();
        else refuse(response, 404, 'No panel file is open.');
        return;
      }
      if (path === '/panel/changes' && incoming.method === 'GET') {
        sendChanges(incoming, response, file, followed);
        return;
      }
      const state = followed.now();
      if (state.kind === 'gone') refuse(response, 404, state.reason);
      else answer(response, 200, TYPES['.json'] ?? '', panelJson(file, state.text));
      return;
    }
    let found = files.get(path);
    if (found === undefined) {
      // The application may have been built anew while it is served.
      try {
        files = filesOf(webRoot);
      } catch {
        files = new Map();
      }
      found = files.get(path);
    }
    if (found === undefined) {
      refuse(response, 404, 'There is no such file.');
      return;
    }
    try {
      answer(response, 200, TYPES[extname(found)] ?? 'application/octet-stream', readFileSync(found), {
        'Cache-Control': 'no-cache',
      });
    } catch {
      refuse(response, 404, 'There is no such file.');
    }
  });

  try {
    if (request.port !== null) {
      if (!(await listen(server, request.port))) {
        throw new Refusal(`Port ${request.port} is in use: give another with --port.`);
      }
    } else {
      let port = PORT;
      while (!(await listen(server, port))) port = port < PORT + NEXT_PORTS ? port + 1 : 0;
    }
  } catch (error) {
    followed?.close();
    throw error;
  }
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : PORT;
  return {
    url: `http://${ADDRESS}:${port}/`,
    close: () =>
      new Promise((done) => {
        followed?.close();
        server.close(() => done());
        server.closeAllConnections();
      }),
  };
}
