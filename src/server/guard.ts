/** What of a request says who is asking. */
export interface Asker {
  readonly method: string;
  readonly host: string | undefined;
  readonly origin: string | undefined;
  /** Sec-Fetch-Site, which browsers send and pages cannot forge. */
  readonly fetchSite: string | undefined;
  /** Content-Type without its parameters. */
  readonly contentType: string | undefined;
}

/** What a request that changes something may bring; no page elsewhere can send these without being asked first. */
const BODY_TYPES: ReadonlySet<string> = new Set(['application/json', 'application/octet-stream']);

/**
 * Why a request is refused, in a sentence; null where it comes from our own page, or from a program on this computer.
 *
 * A page of another site may send requests to this computer, but its browser says so: in Host where a name of its own
 * was made to point here, in Origin where something is to be changed, in Sec-Fetch-Site always.
 *
 * @param port on which the server listens
 * Source: Fetch Metadata Request Headers, w3.org/TR/fetch-metadata; RFC 6454 for Origin
 */
export function whyRefused(asker: Asker, port: number): string | null {
  const hosts = hostsOf(port);
  if (asker.host === undefined || !hosts.includes(asker.host.toLowerCase()))
    return `This server answers only to ${hosts[0]}.`;
  if (asker.origin !== undefined && asker.origin !== `http://${asker.host.toLowerCase()}`)
    return 'This request comes from a page of another place.';
  if (asker.fetchSite !== undefined && asker.fetchSite !== 'same-origin' && asker.fetchSite !== 'none')
    return 'This request comes from a page of another place.';
  if (asker.method === 'GET' || asker.method === 'HEAD') return null;
  if (asker.method !== 'POST' && asker.method !== 'PUT')
    return `This server knows no ${asker.method} requests.`;
  if (asker.origin === undefined) return 'What changes something must say which page it comes from (Origin).';
  if (asker.contentType === undefined || !BODY_TYPES.has(asker.contentType))
    return `What changes something is sent as ${[...BODY_TYPES].join(' or ')}.`;
  return null;
}

/** Names under which this computer reaches itself. */
function hostsOf(port: number): readonly string[] {
  return ['127.0.0.1', 'localhost', '[::1]'].map((name) => (port === 80 ? name : `${name}:${port}`));
}
