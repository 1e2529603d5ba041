import { execFileSync, spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { createServer, type Server } from 'node:https';
import type { IncomingMessage, ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import path from 'node:path';
import { temporaryFolder } from './temporary-repository.ts';

/** A git server on this machine, spoken to by https; its certificate is its own. */
export interface GitServer {
  /** `https://127.0.0.1:PORT`. */
  readonly address: string;
  /** The certificate to trust, for GIT_SSL_CAINFO. */
  readonly certificate: string;
  /** Every path that was asked for. */
  readonly asked: readonly string[];
  /** Closes it, and whatever is under way. */
  close(): Promise<void>;
}

/**
 * Serves the repositories of a folder by git's own `http-backend` (its manual, "EXAMPLES"), under `/git/NAME`.
 *
 * - `/to/ADDRESS`: sends the client to that address, percent-encoded, followed by what git asked for.
 * - `/silent/…`: takes what is asked and never answers.
 * - `/drip/NAME`: as `/git/NAME`, 64 kB of the answer every 50 ms.
 */
export async function gitServer(folder: string): Promise<GitServer> {
  const certificate = path.join(temporaryFolder(), 'certificate.pem');
  const key = path.join(temporaryFolder(), 'key.pem');
  execFileSync(
    'openssl',
    `req -x509 -newkey rsa:2048 -nodes -days 2 -subj /CN=127.0.0.1 -addext subjectAltName=IP:127.0.0.1 -out ${certificate} -keyout ${key}`.split(
      ' ',
    ),
    { stdio: 'ignore' },
  );
  const asked: string[] = [];
  const server = createServer(
    { cert: readFileSync(certificate), key: readFileSync(key) },
    (request, response) => {
      const url = new URL(request.url ?? '/', 'https://127.0.0.1');
      asked.push(url.pathname);
      const [, way, first, ...rest] = url.pathname.split('/');
      const below = `/${[first, ...rest].join('/')}`;
      if (way === 'to') {
        const to = `${decodeURIComponent(first)}/${rest.join('/')}${url.search}`;
        response.writeHead(302, { Location: to }).end();
      } else if (way === 'git' || way === 'drip')
        backend(folder, below, url.search, request, response, way === 'drip');
      else if (way !== 'silent') response.writeHead(404).end();
    },
  );
  await new Promise<void>(resolve => server.listen(0, '127.0.0.1', resolve));
  return {
    address: `https://127.0.0.1:${(server.address() as AddressInfo).port}`,
    certificate,
    asked,
    close: () => closed(server),
  };
}

function closed(server: Server): Promise<void> {
  server.closeAllConnections();
  return new Promise(resolve => server.close(() => resolve()));
}

/** One request as CGI has it (RFC 3875). */
function backend(
  folder: string,
  below: string,
  search: string,
  request: IncomingMessage,
  response: ServerResponse,
  slowly: boolean,
): void {
  const child = spawn('git', ['http-backend'], {
    env: {
      PATH: process.env['PATH'] ?? '',
      GIT_PROJECT_ROOT: folder,
      GIT_HTTP_EXPORT_ALL: '1',
      GIT_CONFIG_NOSYSTEM: '1',
      GIT_CONFIG_GLOBAL: '/dev/null',
      GATEWAY_INTERFACE: 'CGI/1.1',
      REQUEST_METHOD: request.method ?? 'GET',
      PATH_INFO: below,
      QUERY_STRING: search.slice(1),
      CONTENT_TYPE: request.headers['content-type'] ?? '',
      HTTP_CONTENT_ENCODING: String(request.headers['content-encoding'] ?? ''),
      GIT_PROTOCOL: String(request.headers['git-protocol'] ?? ''),
    },
    stdio: ['pipe', 'pipe', 'ignore'],
  });
  child.stdin.on('error', () => undefined);
  request.pipe(child.stdin);
  const out: Buffer[] = [];
  child.stdout.on('data', (piece: Buffer) => out.push(piece));
  child.on('close', () => {
    const all = Buffer.concat(out);
    const end = all.indexOf('\r\n\r\n');
    const lines = all.subarray(0, end).toString('latin1').split('\r\n');
    const headers = lines.map(line => line.split(/: (.*)/s).slice(0, 2) as [string, string]);
    const status = Number(headers.find(([name]) => name === 'Status')?.[1].slice(0, 3) ?? 200);
    response.writeHead(status, Object.fromEntries(headers.filter(([name]) => name !== 'Status')));
    const body = all.subarray(end + 4);
    if (!slowly) response.end(body);
    else drip(body, response);
  });
}

function drip(body: Buffer, response: ServerResponse, at = 0): void {
  if (response.destroyed) return;
  if (at >= body.length) return void response.end();
  response.write(body.subarray(at, at + 65_536));
  setTimeout(() => drip(body, response, at + 65_536), 50);
}
