import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { get, type IncomingHttpHeaders, request } from 'node:http';
import { connect, createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Served } from '../../src/cli/io.ts';
import { serve } from '../../src/cli/server.ts';
import { runInMemory } from './memory.ts';

let folder = '';
let web = '';
let panel = '';
let served: Served | null = null;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'mimicwright-server-'));
  web = join(folder, 'web');
  panel = join(folder, 'yard.mimic.json');
  await mkdir(join(web, 'assets'), { recursive: true });
  await writeFile(join(web, 'index.html'), '<!doctype html><title>Mimicwright</title>');
  await writeFile(join(web, 'assets', 'app.js'), 'export {};');
  await writeFile(join(folder, 'secret.txt'), 'secret');
  await writeFile(panel, '{"half": ');
});
afterEach(async () => {
  await served?.close();
  served = null;
  await rm(folder, { recursive: true, force: true });
});

interface Reply {
  readonly status: number;
  readonly headers: IncomingHttpHeaders;
  readonly body: string;
}

const start = async (file: string | null = panel): Promise<number> => {
  served = await serve(web, { file, port: 0 });
  return Number(new URL(served.url).port);
};

/** One request with the path exactly as given, as a hostile client would send it. */
const ask = (port: number, path: string, headers: Record<string, string> = {}, method = 'GET'): Promise<Reply> =>
  new Promise((done, fail) => {
    const asked = request({ host: '127.0.0.1', port, path, method, headers }, (response) => {
      let body = '';
      response.on('data', (chunk) => {
        body += chunk;
      });
      response.on('end', () => done({ status: response.statusCode ?? 0, headers: response.headers, body }));
    });
    asked.on('error', fail);
    asked.end();
  });

/** Bytes straight onto the wire, for what a decent client would never send. */
const raw = (port: number, text: string): Promise<string> =>
  new Promise((done, fail) => {
    const socket = connect(port, '127.0.0.1', () => socket.write(text));
    let reply = '';
    socket.on('data', (chunk) => {
      reply += chunk;
    });
    socket.on('end', () => done(reply));
    socket.on('error', fail);
  });

describe('the application', () => {
  it('is served with its types and a policy without inline code', async () => {
    const port = await start();
    const index = await ask(port, '/');
    expect(index.status).toBe(200);
    expect(index.body).toContain('Mimicwright');
    expect(index.headers['content-type']).toBe('text/html; charset=utf-8');
    expect(index.headers['x-content-type-options']).toBe('nosniff');
    const policy = String(index.headers['content-security-policy']);
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("frame-ancestors 'none'");
    expect(policy).not.toMatch(/unsafe|https?:|\*/);
    expect((await ask(port, '/assets/app.js?v=1')).headers['content-type']).toBe('text/javascript; charset=utf-8');
    const head = await ask(port, '/', {}, 'HEAD');
    expect([head.status, head.body, head.headers['content-length']]).toEqual([200, '', String(index.body.length)]);
  });

  it('may be built anew while it is served', async () => {
    const port = await start();
    expect((await ask(port, '/assets/later.js')).status).toBe(404);
    await writeFile(join(web, 'assets', 'later.js'), '');
    expect((await ask(port, '/assets/later.js')).status).toBe(200);
    await rm(join(web, 'assets', 'later.js'));
    expect((await ask(port, '/assets/later.js')).status).toBe(404);
  });

  it.each([
    '/../secret.txt',
    '/assets/../../secret.txt',
    '/%2e%2e/secret.txt',
    '/..%2fsecret.txt',
    '/assets/%2e%2e%2f%2e%2e%2fsecret.txt',
    '//secret.txt',
    '/..\\secret.txt',
    '/assets',
    '/assets/',
    '/index.html/',
    '/index.html%00',
    '/yard.mimic.json',
    '/constructor',
    '/__proto__',
  ])('%s is not there', async (path) => {
    const port = await start();
    const reply = await ask(port, path);
    expect(reply.status).toBe(404);
    expect(reply.body).not.toContain('secret\n');
    expect(reply.body).not.toBe('secret');
  });

  it('that is not built is refused', async () => {
    await rm(web, { recursive: true });
    await expect(serve(web, { file: null, port: 0 })).rejects.toThrow(/npm run build/);
  });
});

describe('who may ask', () => {
  it.each(['127.0.0.1', 'localhost', 'LOCALHOST'])('%s with the port', async (host) => {
    const port = await start();
    expect((await ask(port, '/panel', { Host: `${host}:${port}` })).status).toBe(200);
  });

  it.each([
    ['another name', (_port: number) => 'evil.example'],
    ['another name with the port', (port: number) => `evil.example:${port}`],
    ['another port', (port: number) => `127.0.0.1:${port + 1}`],
    ['no port', (_port: number) => 'localhost'],
    ['a name that begins alike', (port: number) => `127.0.0.1:${port}.evil.example`],
  ])('not %s', async (_name, host) => {
    const port = await start();
    for (const path of ['/', '/panel', '/panel/changes'])
      expect((await ask(port, path, { Host: host(port) })).status).toBe(403);
  });

  it('not a page of another site, nor one of no site', async () => {
    const port = await start();
    for (const Origin of [
      'https://evil.example',
      'null',
      `http://127.0.0.1:${port + 1}`,
      `https://127.0.0.1:${port}`,
    ]) {
      expect((await ask(port, '/panel', { Origin })).status).toBe(403);
    }
    expect((await ask(port, '/panel', { 'Sec-Fetch-Site': 'cross-site' })).status).toBe(403);
    expect(
      (await ask(port, '/panel', { Origin: `http://localhost:${port}`, 'Sec-Fetch-Site': 'same-origin' })).status,
    ).toBe(200);
  });

  it('and only to read', async () => {
    const port = await start();
    for (const method of ['POST', 'PUT', 'DELETE', 'OPTIONS']) {
      const reply = await ask(port, '/panel', {}, method);
      expect([reply.status, reply.headers.allow]).toEqual([405, 'GET, HEAD']);
    }
    expect((await ask(port, '/panel')).headers).not.toHaveProperty('access-control-allow-origin');
  });

  it('only this machine: nothing listens on other addresses', async () => {
    const port = await start();
    const { networkInterfaces } = await import('node:os');
    const others = Object.values(networkInterfaces())
      .flatMap((list) => list ?? [])
      .filter(({ family, internal }) => family === 'IPv4' && !internal)
      .map(({ address }) => address);
    for (const host of [...others, '127.0.0.2']) {
      const refused = await new Promise<boolean>((done) => {
        get({ host, port, path: '/' }, () => done(false)).on('error', () => done(true));
      });
      expect(refused).toBe(true);
    }
  });

  it('survives what is no request', async () => {
    const port = await start();
    expect(await raw(port, 'nonsense\r\n\r\n')).toMatch(/^HTTP\/1\.1 400/);
    expect(await raw(port, 'GET / HTTP/1.1\r\nConnection: close\r\n\r\n')).toMatch(/^HTTP\/1\.1 400/);
    expect(await raw(port, 'GET / HTTP/1.1\r\nHost: \r\nConnection: close\r\n\r\n')).toMatch(/^HTTP\/1\.1 403/);
    expect(await raw(port, 'GET / HTTP/1.0\r\n\r\n')).toMatch(/^HTTP\/1\.1 403/);
    expect(
      await raw(port, `GET http://evil.example/panel HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nConnection: close\r\n\r\n`),
    ).toMatch(/^HTTP\/1\.1 404/);
    expect((await ask(port, '/')).status).toBe(200);
  });
});

/** Listen for events; `next` waits for the next one. */
function listenTo(port: number, headers: Record<string, string> = {}) {
  const events: { readonly event: string; readonly id: string; readonly data: unknown }[] = [];
  const waiting: (() => void)[] = [];
  let buffer = '';
  let lastId = '';
  const opened = new Promise<void>((done) => {
    const asked = get({ host: '127.0.0.1', port, path: '/panel/changes', headers }, (response) => {
      expect(response.headers['content-type']).toBe('text/event-stream; charset=utf-8');
      response.on('data', (chunk) => {
        buffer += chunk;
        for (let end = buffer.indexOf('\n\n'); end >= 0; end = buffer.indexOf('\n\n')) {
          const fields = new Map(
            buffer
              .slice(0, end)
              .split('\n')
              .map((line) => [line.slice(0, line.indexOf(':')), line.slice(line.indexOf(':') + 2)] as const),
          );
          buffer = buffer.slice(end + 2);
          lastId = fields.get('id') ?? lastId;
          const data = fields.get('data');
          if (data !== undefined) {
            events.push({ event: fields.get('event') ?? '', id: lastId, data: JSON.parse(data) });
            waiting.shift()?.();
          }
        }
        done();
      });
      response.on('error', () => {});
    });
    asked.on('error', () => {});
  });
  const next = async () => {
    if (events.length === 0) await new Promise<void>((done) => waiting.push(done));
    return events.shift();
  };
  return { opened, next, lastId: () => lastId };
}

describe('the panel', () => {
  it('is served as its text, even when it is no panel', async () => {
    const port = await start();
    const reply = await ask(port, '/panel');
    expect(JSON.parse(reply.body)).toEqual({ file: 'yard.mimic.json', text: '{"half": ' });
    expect(reply.headers['cache-control']).toBe('no-store');
    expect(reply.headers['content-type']).toBe('application/json; charset=utf-8');
  });

  it('is not there where no file is open', async () => {
    const port = await start(null);
    // 204 and not 404: a browser notes a 404 in its console as an error.
    const reply = await ask(port, '/panel');
    expect([reply.status, reply.body, reply.headers['cache-control']]).toEqual([204, '', 'no-store']);
    expect(reply.headers['content-security-policy']).toContain("default-src 'none'");
    expect((await ask(port, '/panel/changes')).status).toBe(404);
  });

  it('sends an event when the file changes, when it is gone and when it is back', async () => {
    const port = await start();
    const listener = listenTo(port);
    await listener.opened;
    await writeFile(panel, '{"a": "line\\nbreak"}\n');
    expect(await listener.next()).toMatchObject({
      event: 'change',
      data: { file: 'yard.mimic.json', text: '{"a": "line\\nbreak"}\n' },
    });
    expect(JSON.parse((await ask(port, '/panel')).body).text).toBe('{"a": "line\\nbreak"}\n');
    await rm(panel);
    expect(await listener.next()).toMatchObject({ event: 'gone', data: { file: 'yard.mimic.json' } });
    expect((await ask(port, '/panel')).status).toBe(404);
    await writeFile(panel, 'back');
    expect(await listener.next()).toMatchObject({ event: 'change', data: { text: 'back' } });
  });

  it('tells a listener that comes back what it missed', async () => {
    const port = await start();
    const first = listenTo(port);
    await first.opened;
    const seen = first.lastId();
    await writeFile(panel, 'missed');
    await first.next();
    const back = listenTo(port, { 'Last-Event-ID': seen });
    expect(await back.next()).toMatchObject({ event: 'change', data: { text: 'missed' } });
  });
});

describe('the port', () => {
  it('that is taken is refused where it was asked for', async () => {
    const holder = createServer();
    const port = await new Promise<number>((done) => {
      holder.listen(0, '127.0.0.1', () => {
        const address = holder.address();
        done(typeof address === 'object' && address !== null ? address.port : 0);
      });
    });
    await expect(serve(web, { file: panel, port })).rejects.toThrow(new RegExp(`Port ${port} is in use`));
    holder.close();
  });

  it('is the next that is free where none was asked for', async () => {
    const first = await serve(web, { file: null, port: null });
    const second = await serve(web, { file: null, port: null });
    const [a, b] = [first, second].map(({ url }) => Number(new URL(url).port));
    await first.close();
    await second.close();
    expect(a).toBeGreaterThanOrEqual(4180);
    expect(b).not.toBe(a);
  });
});

describe('open', () => {
  it('prints its address and how to stop, shows the browser, and ends when it is told to', async () => {
    const stop = new AbortController();
    const ran = await runInMemory(
      ['open', panel, '--port', '0'],
      {},
      {
        serve: (request) => serve(web, request),
        showInBrowser: () => stop.abort(),
        stop: stop.signal,
      },
    );
    expect([ran.status, ran.stderr]).toEqual([0, '']);
    expect(ran.stdout).toMatch(/^Mimicwright is at http:\/\/127\.0\.0\.1:\d+\/\n.*Ctrl\+C/);
  });

  it('leaves the browser alone with --no-open', async () => {
    const ran = await runInMemory(
      ['open', '--port', '0', '--no-open'],
      {},
      { serve: (request) => serve(web, request), stop: AbortSignal.abort() },
    );
    expect([ran.status, ran.shown]).toEqual([0, []]);
  });

  it('refuses a file that is missing, and a folder', async () => {
    for (const file of [join(folder, 'missing.json'), folder]) {
      const ran = await runInMemory(
        ['open', file, '--port', '0', '--no-open'],
        {},
        { serve: (request) => serve(web, request), stop: AbortSignal.abort() },
      );
      expect([ran.status, ran.stdout]).toEqual([2, '']);
    }
  });
});
