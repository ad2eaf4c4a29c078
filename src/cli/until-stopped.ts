/** How often the wish to stop is looked for, ms. */
const LOOKS = 100;

/** Lets a server answer until the user asks to stop, and closes it then. */
export async function untilStopped(
  server: { close(): Promise<void> },
  signal: { readonly aborted: boolean },
): Promise<void> {
  while (!signal.aborted) await new Promise((resolve) => setTimeout(resolve, LOOKS));
  await server.close();
}
