/**
 * Why a request to a page of a lesson is refused, in a sentence; null where it is from a page of this address.
 *
 * @param host   address and port that the server listens on
 * Source: see whyRefused
 */
export function whyNotOurs(request: Request, hosts: readonly string[]): string | null {
  const host = request.headers.get('host')?.toLowerCase() ?? '';
  if (!hosts.includes(host)) return `This server answers only to ${hosts[0]}.`;
  const origin = request.headers.get('origin');
  const site = request.headers.get('sec-fetch-site');
  const isGet = request.method === 'GET' || request.method === 'HEAD';
  if (!isGet && request.method !== 'POST') return `This server knows no ${request.method} requests.`;
  if (!isGet && origin === null) return 'What changes something must say which page it comes from (Origin).';
  if (origin !== null && origin !== `http://${host}`)
    return 'This request comes from a page of another place.';
  if (!isGet && site !== null && site !== 'same-origin')
    return 'This request comes from a page of another place.';
  return null;
}

/** The fields of a form that was sent as one; null where it is none. */
export async function readForm(bytes: Uint8Array, type: string | undefined): Promise<FormData | null> {
  try {
    const body = new Uint8Array(bytes);
    return await new Response(body, { headers: { 'Content-Type': type ?? '' } }).formData();
  } catch {
    return null;
  }
}

/** A text of a form; empty where there is none. */
export function textOf(form: FormData, name: string): string {
  const value = form.get(name);
  return typeof value === 'string' ? value : '';
}
