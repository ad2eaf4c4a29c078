import { createServer } from 'node:http';

/** What a page asks for and what it gets. */
export interface PageFiles {
  readonly policy: string;
  /** The page's one script, an ES module. */
  readonly script: string;
  /** Content of any other path that the page fetches. */
  read(path: string): Promise<Uint8Array>;
}

export interface ServedPage {
  readonly address: string;
  /** What the page sends back, once. */
  readonly answer: Promise<unknown>;
  close(): void;
}

/** Serves one page of a script, on the loopback address, under a content security policy. */
export async function servePage({ policy, script, read }: PageFiles): Promise<ServedPage> {
  let give: (sent: unknown) => void = () => undefined;
  const answer = new Promise<unknown>((resolve) => {
    give = resolve;
  });
  const server = createServer(async (request, response) => {
    if (request.method === 'POST') {
      let text = '';
      for await (const part of request.setEncoding('utf8')) text += part;
      response.end();
      give(JSON.parse(text));
      return;
    }
    const path = decodeURI(request.url ?? '/');
    response.setHeader('Content-Security-Policy', policy);
    if (path === '/') {
      response.setHeader('Content-Type', 'text/html');
      response.end('<!doctype html><title>Page</title><script type="module" src="/page.js"></script>');
    } else if (path === '/page.js') {
      response.setHeader('Content-Type', 'text/javascript');
      response.end(script);
    } else {
      response.end(await read(path.slice(1)));
    }
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  if (typeof address !== 'object' || address === null) throw new Error('The server has no address.');
  return { address: `http://127.0.0.1:${address.port}/`, answer, close: () => server.close() };
}
